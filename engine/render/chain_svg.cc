#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "moves/standing.h"
#include "render/chain_drawing.h"
#include "render/svg.h"
#include "render/svg_text.h"

namespace whichlink::render {
namespace {

// All lengths are in units of the picture.
constexpr double kWidth = 800;
constexpr double kMargin = 20;   // left and right of the frames: lines turn there
constexpr double kPadding = 10;  // inside a frame
constexpr double kSmall = 11;
constexpr double kLarge = 14;
constexpr double kLineHeight = 1.35;
constexpr std::size_t kBoxColumns = 15;
constexpr double kBoxPadding = 6;
constexpr double kGap = 30;        // between boxes: the joint
constexpr double kRowGap = 24;     // between rows: the line that turns
constexpr double kJointDown = 14;  // from a box's top to its joints

struct Box {
  std::vector<std::string> name;
  std::vector<std::string> pieces;
  JointLook before = JointLook::fixed;  ///< the joint to the box before it

  [[nodiscard]] double height() const {
    const double rule = pieces.empty() ? 0 : kBoxPadding;
    return 2 * kBoxPadding + rule +
           static_cast<double>(name.size() + pieces.size()) * kSmall * kLineHeight;
  }
};

struct Frame {
  std::string place;
  std::vector<Box> boxes;
};

constexpr double kBoxWidth = kBoxColumns * kSmall * kLetter + 2 * kBoxPadding;
constexpr auto kInRow =
    static_cast<std::size_t>((kWidth - 2 * kMargin - 2 * kPadding + kGap) / (kBoxWidth + kGap));

std::vector<Frame> frames_of(const chain::Chain& chain, const chain::Path& path) {
  std::vector<Frame> frames;
  for (const PlaceOnWay& place : places_on_way(chain, path)) {
    frames.push_back({chain.places[place.place].name, {}});
    for (const PartOnWay& part : place.parts) {
      Box box{lines_of(chain.parts[part.part].name, kBoxColumns), {}, part.before};
      for (const std::string& piece : part.pieces) {
        for (std::string& line : lines_of(piece, kBoxColumns))
          box.pieces.push_back(std::move(line));
      }
      frames.back().boxes.push_back(std::move(box));
    }
  }
  return frames;
}

/// Where the line to the next box comes from.
struct Pen {
  double x = 0, y = 0;
};

class Picture {
 public:
  explicit Picture(const moves::Setting& setting) : setting_(setting) {}

  std::string draw() {
    const chain::Chain& chain = setting_.chain();
    y_ = kMargin;
    write(setting_.installation().name, kLarge, "font-weight=\"bold\"");
    if (chain.routes.empty()) write("No route yet.", kSmall, "");
    for (const RouteId route : chain.routes.ids()) draw_route(route);
    draw_legend();
    return fmt::format(
               "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.0f}\" height=\"{1:.0f}\" "
               "viewBox=\"0 0 {0:.0f} {1:.0f}\" font-family=\"monospace\" fill=\"#000\">\n"
               "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n",
               kWidth, y_ + kMargin) +
           under_ + lines_ + boxes_ + texts_ + "</svg>\n";
  }

 private:
  /// Lines of text from the left margin on; moves down.
  void write(const std::string& text, double size, const std::string& look) {
    for (const std::string& line : lines_of(text, columns_in(kWidth - 2 * kMargin, size))) {
      y_ += size * kLineHeight;
      put_text(kMargin, y_, size, line, look);
    }
  }

  void put_text(double x, double y, double size, const std::string& text, const std::string& look) {
    texts_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" font-size=\"{:.0f}\"{}{}>{}</text>\n", x,
                          y, size, look.empty() ? "" : " ", look, escaped(text));
  }

  void draw_route(RouteId id) {
    const chain::Chain& chain = setting_.chain();
    const chain::Route& route = chain.routes[id];
    y_ += kRowGap;
    write(route.name, kLarge, "font-weight=\"bold\"");
    write(setting_.rules().signals[route.signal].words, kSmall, "");
    pen_.reset();
    const chain::Traced traced = setting_.tracer().trace(id, chain.home);
    for (const Frame& frame : frames_of(chain, traced.path)) draw_frame(frame);
  }

  void draw_frame(const Frame& frame) {
    y_ += pen_ ? kRowGap : kPadding;
    const double top = y_;
    double label = top + kPadding / 2;
    const double inside = kWidth - 2 * kMargin - 2 * kPadding;
    for (const std::string& line : lines_of(frame.place, columns_in(inside, kSmall))) {
      label += kSmall * kLineHeight;
      put_text(kMargin + kPadding, label, kSmall, line, "font-style=\"italic\"");
    }
    y_ = label + kPadding;
    for (std::size_t first = 0; first < frame.boxes.size(); first += kInRow) {
      if (first > 0) y_ += kRowGap;
      draw_row(frame, first, first == 0 ? top : y_);
    }
    y_ += kPadding;
    under_ += fmt::format(
        "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" rx=\"4\" "
        "fill=\"#f4f4f4\" stroke=\"#999\"/>\n",
        kMargin, top, kWidth - 2 * kMargin, y_ - top);
  }

  /// @param above  the upper edge of what stands over the row: lines turn over it
  void draw_row(const Frame& frame, std::size_t first, double above) {
    const std::size_t end = std::min(first + kInRow, frame.boxes.size());
    double tallest = 0;
    double x = kMargin + kPadding;
    for (std::size_t index = first; index < end; ++index) {
      const Box& box = frame.boxes[index];
      const Pen here{x, y_ + kJointDown};
      if (pen_) draw_joint(*pen_, here, box.before, index == first, above);
      draw_box(box, x);
      pen_ = Pen{x + kBoxWidth, here.y};
      x += kBoxWidth + kGap;
      tallest = std::max(tallest, box.height());
    }
    y_ += tallest;
  }

  void draw_joint(const Pen& from, const Pen& to, JointLook look, bool turns, double above) {
    std::string points = fmt::format("{:.1f},{:.1f} ", from.x, from.y);
    if (turns) {
      const double between = above - kRowGap / 2;
      points += fmt::format("{0:.1f},{1:.1f} {0:.1f},{2:.1f} {3:.1f},{2:.1f} {3:.1f},{4:.1f} ",
                            kWidth - kMargin / 2, from.y, between, kMargin / 2, to.y);
    }
    points += fmt::format("{:.1f},{:.1f}", to.x, to.y);
    put_line(points, look);
  }

  void put_line(const std::string& points, JointLook look) {
    const auto line = [&](const char* colour, double width, const char* more) {
      lines_ += fmt::format(
          "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{}/>\n", points,
          colour, width, more);
    };
    switch (look) {
      case JointLook::fixed:
        line("#000", 1.5, "");
        return;
      case JointLook::switched:
        line("#000", 1.5, " stroke-dasharray=\"4 3\"");
        return;
      case JointLook::plugged:  // two lines: a wide black one with white inside
        line("#000", 5, "");
        line("#fff", 2.4, "");
        return;
    }
  }

  void draw_box(const Box& box, double x) {
    boxes_ += fmt::format(
        "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"#fff\" "
        "stroke=\"#000\"/>\n",
        x, y_, kBoxWidth, box.height());
    double text = y_ + kBoxPadding - kSmall * (kLineHeight - 1);
    for (const std::string& line : box.name) {
      text += kSmall * kLineHeight;
      put_text(x + kBoxPadding, text, kSmall, line, "font-weight=\"bold\"");
    }
    if (box.pieces.empty()) return;
    text += kBoxPadding;
    boxes_ += fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"#999\"/>\n", x,
        text - kBoxPadding / 4, x + kBoxWidth, text - kBoxPadding / 4);
    for (const std::string& line : box.pieces) {
      text += kSmall * kLineHeight;
      put_text(x + kBoxPadding, text, kSmall, line, "");
    }
  }

  void draw_legend() {
    y_ += kRowGap;
    double x = kMargin;
    constexpr double kSample = 40;
    y_ += kSmall * kLineHeight;
    for (const auto& [look, words] :
         {std::pair(JointLook::fixed, "joined for good"), std::pair(JointLook::plugged, "plugged"),
          std::pair(JointLook::switched, "selected at the source")}) {
      const double middle = y_ - kSmall / 3;
      put_line(fmt::format("{:.1f},{:.1f} {:.1f},{:.1f}", x, middle, x + kSample, middle), look);
      put_text(x + kSample + kPadding, y_, kSmall, words, "");
      x += kSample + 2 * kPadding + static_cast<double>(width_of(words)) * kSmall * kLetter + kGap;
    }
  }

  const moves::Setting& setting_;
  double y_ = 0;
  std::optional<Pen> pen_;  ///< after the last box of the route that is drawn
  std::string under_, lines_, boxes_, texts_;
};

}  // namespace

std::string chain_svg(const moves::Setting& setting) {
  return Picture(setting).draw();
}

}  // namespace whichlink::render
