#pragma once

#include <optional>
#include <string>
#include <vector>

#include "chart/chart.h"

/// A chart in words, before anybody decides how large they are.
namespace whichlink::sheets {

/// One answer of a box.
struct WallRow {
  std::string heard;               ///< "steady and clear"
  std::string means;               ///< "likely headset cord 72 %"; may be empty
  std::optional<std::size_t> box;  ///< index into WallChart::boxes
  std::string ends;                ///< name of a WallEnd, where there is no box
};

/// A step, or several in a row.
struct WallBox {
  std::string title;                ///< a step's first sentence
  std::string how;                  ///< the rest of it; may be empty
  std::vector<std::string> series;  ///< of several steps, one after the other; else empty
  /// "6.5 min, 38 of 100. Booth. Mind 1, 2."; the place only where it changes
  std::string beside;
  std::vector<WallRow> rows;
};

/// What to do where a way ends.
struct WallEnd {
  std::string name;  ///< "MENDED 1"
  std::string words;
};

struct WallChart {
  std::string route, heard;  ///< "left phone", "nothing at all"
  std::string comes_to;      ///< the numbers, in sentences
  std::string listening;     ///< what every step ends with
  std::vector<WallBox> boxes;
  std::vector<WallEnd> ends;
  std::vector<std::string> every_time;  ///< cautions of each step
  std::vector<std::string> cautions;    ///< of some steps, in the order of their numbers
  std::string if_not_sure;
  std::string whole_route;  ///< how all of it is stressed, where a box says so
};

// The same on every page.
inline const std::string kLegend =
    "In each box: minutes so far, and how many of 100 cases come there.";
inline const std::string kNotSure = "Not sure what you hear?";
inline const std::string kCannot = "Cannot do a step?";
inline const std::string kIfCannot = "STOP.";

/// What is complained of, as on a page: "weak by about 20 dB / weak by about 30 dB".
[[nodiscard]] std::string words_of(const moves::Setting& setting,
                                   const chart::Complaint& complaint);
[[nodiscard]] WallChart words_of(const moves::Setting& setting, const chart::Chart& chart);
/// Of 100: "38", "under 1", "all", "none".
[[nodiscard]] std::string of_hundred(double share);

}  // namespace whichlink::sheets
