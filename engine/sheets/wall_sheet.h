#pragma once

#include <functional>
#include <string>
#include <vector>

#include "chart/chart.h"

namespace whichlink::sheets {

/// What charts are made for a wall.
struct WallQuestion {
  std::vector<chart::Complaint> complaints;  ///< one page each, in this order
  plan::Depth depth{0, 0, 0};                ///< how far the guide searches ahead
  std::string date;                          ///< of the page, as 2026-11-26
};

/// The guide's plan for each complaint, each on one page of paper, and a page before them that
/// says which is which.
/// @param progress  told the share done, from 0 to 1; may be empty
[[nodiscard]] std::string wall_sheet(const moves::Setting& setting, const WallQuestion& question,
                                     const std::function<void(double)>& progress);

/// The complaints of one route that a wall wants, likeliest first.
[[nodiscard]] std::vector<chart::Complaint> wall_complaints(const moves::Setting& setting,
                                                            RouteId route, std::size_t listener,
                                                            const plan::Depth& depth);

}  // namespace whichlink::sheets
