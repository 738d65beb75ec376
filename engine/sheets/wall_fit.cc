#include "sheets/wall_fit.h"

#include <algorithm>
#include <cmath>

namespace whichlink::sheets {
namespace {

// The smaller side of A4 and letter, in points, less the margins (11 mm at the sides and above,
// 16 below).
constexpr double kWidth = 533;
constexpr double kHeight = 715;
// All in shares of the size of the letters, as in wall_sheet.cc.
constexpr double kLine = 1.22;
constexpr double kBetweenColumns = 0.9;
constexpr double kInBox = 0.9;       // padding and lines at both sides of a box
constexpr double kAroundBox = 0.85;  // above and below, with the gap to the next
constexpr double kNumber = 2.2;      // the number before a title, and the mark before an answer
constexpr double kBold = 1.1;        // letters of titles, answers and where they lead
constexpr double kBeforeLead = 0.9;  // between an answer and where it leads
constexpr double kRowLine = 0.16;    // above an answer
constexpr double kTitle = 1.6;       // of the page
constexpr double kEnds = 0.953;      // of what stands below the boxes
// Room for what a browser does otherwise.
constexpr double kSpare = 0.985;

double lines_of(const std::string& text, double width) {
  if (text.empty()) return 0;
  const double blank = width_of(" ");
  double lines = 1;
  double used = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const double word = width_of(text.substr(at, end - at));
    const double wanted = used > 0 ? used + blank + word : word;
    if (wanted <= width) {
      used = wanted;
    } else {
      lines += (used > 0 ? 1 : 0) + std::floor(word / width);
      used = std::fmod(word, width);
    }
    at = end + 1;
  }
  return lines;
}

double height_of(const WallBox& box, double width) {
  const double inside = width - kInBox;
  double lines = lines_of(box.title, (inside - kNumber) / kBold) + lines_of(box.how, inside) +
                 lines_of(box.beside, inside);
  for (const std::string& one : box.series) lines += lines_of(one, inside - kNumber);
  for (const WallRow& row : box.rows) {
    const std::string leads = row.box ? "go to 00" : row.ends;
    const double left = inside - kBold * width_of(leads) - kBeforeLead;
    const double heard = width_of(row.heard);
    // Bold words first, plain ones after: as if all were between the two.
    const double all = heard + width_of(row.means);
    const double wider = all > 0 ? (kBold * heard + all - heard) / all : 1;
    lines += lines_of(row.heard + (row.means.empty() ? "" : ": " + row.means), left / wider);
  }
  return lines * kLine + kAroundBox + kRowLine * static_cast<double>(box.rows.size());
}

double height_of_ends(const WallChart& chart, double width) {
  const double inside = width / kEnds - kInBox;
  double lines = 0;
  for (const WallEnd& end : chart.ends) lines += lines_of(end.name + ": " + end.words, inside);
  lines += lines_of(kNotSure + " " + chart.if_not_sure + " " + kCannot + " " + kIfCannot, inside);
  if (!chart.whole_route.empty()) {
    lines += lines_of("The whole route: " + chart.whole_route, inside);
  }
  for (const std::string& caution : chart.cautions) lines += lines_of("Mind 1: " + caution, inside);
  return kEnds * (kLine * lines + 0.6);
}

double height_around(const WallChart& chart, double width) {
  const std::string title = chart.route + ": " + chart.heard + "  Chart 100";
  std::string every = "Start at 1. " + kLegend + " After every step: " + chart.listening + ".";
  for (const std::string& caution : chart.every_time) every += " " + caution;
  return kTitle * (kLine * lines_of(title, width / kTitle / kBold) + 0.3) +
         kLine * (lines_of(chart.comes_to, width) + lines_of(every, width)) + 1 +
         height_of_ends(chart, width);
}

}  // namespace

const std::vector<double>& wall_sizes() {
  static const std::vector<double> sizes{12, 11, 10.5};
  return sizes;
}

// By kinds of letters, rounded up to those of a wide face (DejaVu Sans), which is what a machine
// without the usual ones has.
double width_of(const std::string& text) {
  const auto of = [](char letter) -> double {
    const std::string narrow = "iljtfI.,:;'|!()/- r\"";
    const std::string wide = "mwMW%@";
    const auto byte = static_cast<unsigned char>(letter);
    if ((byte & 0xC0U) == 0x80U) return 0;
    if (byte >= 0x80U) return 1;
    if (narrow.find(letter) != std::string::npos) return 0.37;
    if (wide.find(letter) != std::string::npos) return 0.95;
    if (letter >= 'A' && letter <= 'Z') return 0.72;
    return 0.61;
  };
  double width = 0;
  for (const char letter : text) width += of(letter);
  return width;
}

bool fits_page(const WallChart& chart, double size_points) {
  const double width = kWidth / size_points;
  const double height = kHeight * kSpare / size_points - height_around(chart, width);
  const double column = (width - kBetweenColumns) / 2;
  // Boxes are not broken: the first column takes as many as it can, the second the rest.
  double used = 0;
  std::size_t columns = 1;
  for (const WallBox& box : chart.boxes) {
    const double own = height_of(box, column);
    if (own > height) return false;
    if (used + own > height) {
      ++columns;
      used = 0;
    }
    used += own;
  }
  return columns <= 2 && height > 0;
}

}  // namespace whichlink::sheets
