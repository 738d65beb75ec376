#pragma once

#include <cstddef>

#include "upkeep/demand.h"

/// How many of one part to keep when each one used is ordered again (docs/mathematics.md 7.4). As
/// soon as the position (on the shelf and on order, less what is owed) falls below `level`, `batch`
/// parts are ordered. So it is level, level + 1 ... level + batch - 1, each for the same share of
/// time, whatever the rate; and what is lacking or left at any time is what the demand of one lead
/// time makes of the position one lead time ago (G. Hadley & T. Whitin, Analysis of Inventory
/// Systems, 1963; P. Zipkin, Foundations of Inventory Management, 2000; both from memory). For
/// batch 1 the lead times may differ and only their mean counts (Palm's theorem: given the rate,
/// the units on order are Poisson).
///
/// All costs and means are convex in the level, for any batch: they are means of convex functions.
namespace whichlink::upkeep {

struct Stocked {
  double chance_out = 0;      ///< that at some moment something is lacking
  double expected_short = 0;  ///< mean number lacking
  double expected_held = 0;   ///< mean number on the shelf
};

/// What a level leads to in the long run.
/// @param demand  of one lead time
/// @param batch   at least 1
[[nodiscard]] Stocked stocked(const Demand& demand, std::size_t level, std::size_t batch = 1);

/// The smallest level with chance_out <= 1 - service.
/// @param service  0 to 1; for 1 the level from which on nothing lacks but for 1e-25
[[nodiscard]] std::size_t level_for_service(const Demand& demand, double service,
                                            std::size_t batch = 1);

/// holding * expected_held + lacking * expected_short.
/// @param holding  cost of a part on the shelf for a unit of time, at least 0
/// @param lacking  cost of a part that is lacking for a unit of time, at least 0
[[nodiscard]] double cost_of_level(const Demand& demand, std::size_t level, double holding,
                                   double lacking, std::size_t batch = 1);

/// The smallest level of least cost. Where holding is 0 and lacking is not, the level from which on
/// nothing lacks but for 1e-25.
[[nodiscard]] std::size_t cheapest_level(const Demand& demand, double holding, double lacking,
                                         std::size_t batch = 1);

}  // namespace whichlink::upkeep
