#include "render/bars.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/svg.h"
#include "render/svg_text.h"

namespace whichlink::render {
namespace {

constexpr double kBarsWidth = 300;
constexpr double kSize = 14;
constexpr double kLine = 18;
constexpr double kBarHeight = 12;
constexpr double kBarGap = 8;
constexpr double kEdge = 2;  // half of a frame's line must not be cut

class Bars {
 public:
  explicit Bars(const std::vector<Bar>& bars) {
    std::size_t columns = 1;
    for (const Bar& bar : bars) {
      largest_ = std::max({largest_, bar.value, bar.of});
      columns = std::max(columns, width_of(bar.text));
    }
    room_ = kBarsWidth - 2 * kEdge - kBarGap - static_cast<double>(columns) * kSize * kLetter;
    for (const Bar& bar : bars) draw(bar);
    if (bars.empty()) write("Nothing to show.");
  }

  std::string finish(const std::string& of) {
    if (!of.empty()) {
      y_ += kBarGap;
      write(of);
    }
    return fmt::format(
               "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.0f}\" height=\"{1:.0f}\" "
               "viewBox=\"0 0 {0:.0f} {1:.0f}\" font-family=\"monospace\" font-size=\"{2:.0f}\" "
               "fill=\"#000\">\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n",
               kBarsWidth, y_ + kBarGap, kSize) +
           svg_ + "</svg>\n";
  }

 private:
  void write(const std::string& text) {
    for (const std::string& line : lines_of(text, columns_in(kBarsWidth - 2 * kEdge, kSize))) {
      y_ += kLine;
      svg_ += fmt::format("<text x=\"{:.0f}\" y=\"{:.0f}\">{}</text>\n", kEdge, y_, escaped(line));
    }
  }

  void rectangle(double length, const char* look) {
    svg_ += fmt::format("<rect x=\"{:.0f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.0f}\" {}/>\n",
                        kEdge, y_, length * room_ / largest_, kBarHeight, look);
  }

  void draw(const Bar& bar) {
    write(bar.label);
    y_ += kBarGap - 2;
    if (bar.of > 0) rectangle(bar.of, R"(fill="#fff" stroke="#000" stroke-width="1.5")");
    rectangle(bar.value, R"(fill="#000")");
    const double end = kEdge + std::max(bar.value, bar.of) * room_ / largest_ + kBarGap;
    svg_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\">{}</text>\n", end, y_ + kBarHeight - 1,
                        escaped(bar.text));
    y_ += kBarHeight + kBarGap / 2;
  }

  double largest_ = 1e-9;
  double room_ = 0;
  double y_ = 0;
  std::string svg_;
};

}  // namespace

std::string bars_svg(const std::vector<Bar>& bars, const std::string& of) {
  return Bars(bars).finish(of);
}

}  // namespace whichlink::render
