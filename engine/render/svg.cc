#include "render/svg.h"

#include <fmt/format.h>

namespace whichlink::render {

std::string escaped(const std::string& text) {
  std::string out;
  for (const char letter : text) {
    switch (letter) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += letter;
    }
  }
  return out;
}

double tick_step(double largest) {
  double step = 1;
  while (true) {
    for (const double factor : {1.0, 2.0, 5.0}) {
      if (largest / (step * factor) <= 8) return step * factor;
    }
    step *= 10;
  }
}

std::string svg_start(double width, double height, const std::string& title,
                      const std::string& subtitle) {
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.0f}\" height=\"{1:.0f}\" viewBox=\"0 "
      "0 "
      "{0:.0f} {1:.0f}\" font-family=\"sans-serif\" font-size=\"13\" fill=\"#222\">\n"
      "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n"
      "<text x=\"16\" y=\"26\" font-size=\"16\">{2}</text>\n"
      "<text x=\"16\" y=\"48\" fill=\"#555\">{3}</text>\n",
      width, height, escaped(title), escaped(subtitle));
}

}  // namespace whichlink::render
