#pragma once

#include "sheets/wall_words.h"

namespace whichlink::sheets {

/// Sizes of letters that a chart may be printed in, in points, the largest first.
[[nodiscard]] const std::vector<double>& wall_sizes();

/// Whether a chart fits one page, be it A4 or letter, in letters of that size. Reckoned from the
/// widths of the letters of a common face, on the safe side; the pages of all installations that
/// come with whichlink are counted in a browser as well.
[[nodiscard]] bool fits_page(const WallChart& chart, double size_points);

/// Width of a text in letters of one point, in points.
[[nodiscard]] double width_of(const std::string& text);

}  // namespace whichlink::sheets
