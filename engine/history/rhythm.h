#pragma once

#include <vector>

#include "history/lookback.h"
#include "upkeep/interval.h"

namespace whichlink::history {

/// What it costs to check every so many days of use, per year.
struct RhythmCost {
  double days = 0;             ///< of use, from check to check
  double checks_per_year = 0;  ///< days of use a year over the interval
  double check_minutes = 0;    ///< a year, spent on checking
  double spoilt_sessions = 0;  ///< a year, expected
  double spoilt_minutes = 0;   ///< their price
  double days_undetected = 0;  ///< from its beginning until a fault is known, mean over all faults
  [[nodiscard]] double minutes() const { return check_minutes + spoilt_minutes; }
};

struct Rhythm {
  double check_minutes = 0;    ///< of one check
  double faults_per_year = 0;  ///< expected, of all kinds
  RhythmCost cheapest;
  std::vector<RhythmCost> named;  ///< daily, weekly, monthly
  std::vector<RhythmCost> curve;  ///< for a plot, ascending in days
};

/// The faults of an installation as check intervals see them: each with its rate, the chance that a
/// check finds it (on that of its routes where it is found most surely), that it is noticed in use,
/// and what a day with it costs. Days are days of use. The setting's installation must have `use`.
[[nodiscard]] std::vector<upkeep::Unrevealed> unrevealed_faults(const moves::Setting& setting,
                                                                const FoundOnRoute& found_on_route);

/// @param check_minutes  that one check takes, all told; > 0
[[nodiscard]] Rhythm rhythm_of(const moves::Setting& setting,
                               const std::vector<upkeep::Unrevealed>& faults, double check_minutes);
[[nodiscard]] RhythmCost cost_of(const faults::Use& use,
                                 const std::vector<upkeep::Unrevealed>& faults,
                                 double check_minutes, double days);

/// The intervals that are compared by name: each day of use, weekly, monthly.
[[nodiscard]] std::vector<std::pair<std::string, double>> named_intervals(const faults::Use& use);

}  // namespace whichlink::history
