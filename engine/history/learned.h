#pragma once

#include <optional>
#include <string>
#include <vector>

#include "moves/setting.h"
#include "record/entries.h"
#include "upkeep/learning.h"

namespace whichlink::history {

/// A rate before and after the record was read.
struct LearnedRate {
  std::optional<ModeId> mode;  ///< absent: crossed plugs, or a cause that is not listed
  std::string name;            ///< as in closing.h
  faults::Rate prior;
  std::size_t items = 0;  ///< how many the installation has, spares apart
  double item_years = 0;  ///< items times the years on record
  double faults = 0;      ///< expected number that cases were opened with
  std::size_t cases = 0;  ///< in which it was believed at all
  upkeep::Gamma before, after;
};

/// What judged limits say, as a gamma. The middle must be above 0.
[[nodiscard]] upkeep::Gamma gamma_of(const faults::Rate& judged);

/// Every rate of the installation, in the order of its rules: a gamma with the judged limits, to
/// which the record's exposure and its expected number of faults are added (docs/mathematics.md 7).
/// A case counts by the shares of its causes, so one that was handed over to service, with five
/// suspects, is not one certain fault.
/// @param years  that the record has of the installation; >= 0
[[nodiscard]] std::vector<LearnedRate> learned_rates(const moves::Installation& installation,
                                                     const std::vector<record::ModeCount>& counts,
                                                     double years);

/// The installation with the middle rates replaced by posterior medians, and the limits by the
/// posterior's 5 % and 95 % points. Without exposure nothing changes.
[[nodiscard]] moves::Installation with_learned(moves::Installation installation,
                                               const std::vector<LearnedRate>& rates);

}  // namespace whichlink::history
