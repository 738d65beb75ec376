#pragma once

#include <string>
#include <vector>

namespace whichlink::render {

/// One bar: its label stands above it, its number after it.
struct Bar {
  std::string label;
  double value = 0;  ///< >= 0
  std::string text;  ///< the number as it is written
  double of = 0;     ///< a frame around it as long as this, where larger; 0: none
};

/// Bars across, SVG 1.1, black on white, 300 units wide: a picture that a phone shows in letters as
/// large as its text. No bars: a picture that says so.
/// @param of  what the frames stand for, in a line below; empty: there are none
[[nodiscard]] std::string bars_svg(const std::vector<Bar>& bars, const std::string& of = "");

}  // namespace whichlink::render
