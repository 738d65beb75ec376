#pragma once

#include <cstdint>
#include <utility>
#include <vector>

#include "moves/move.h"
#include "plan/case_belief.h"

namespace whichlink::plan {

/// Something that may end the trouble.
struct Repair {
  double minutes = 0;                                   ///< with the price of the part
  std::vector<std::pair<std::uint32_t, double>> cures;  ///< fault, chance
  bool uncrosses = false;
};

/// Every repair that staff could do on the route once everything is put back.
[[nodiscard]] std::vector<Repair> repairs_for(const moves::Setting& setting,
                                              const moves::Standing& standing);

/// Expected priced minutes from a belief on: repairs in descending order of chance over cost, each
/// paid only while the trouble lasts, until closing or service is cheaper
/// (docs/mathematics.md 5.2). Linear in the belief up to the order, so a report is worth something
/// only if it changes the order.
/// @param present  by fault
/// @param something_wrong  chance that the route is not sound; scales the single faults
[[nodiscard]] double minutes_to_go(const std::vector<Repair>& repairs,
                                   const std::vector<bool>& matters,
                                   const std::vector<double>& present, double crossed,
                                   double something_wrong, const faults::Prices& prices);

}  // namespace whichlink::plan
