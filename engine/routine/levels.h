#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "moves/setting.h"

namespace whichlink::routine {

/// A reading of a meter against what it must read.
struct Level {
  std::string route, set;  ///< set: the name of the reference levels
  double hz = 0;
  double measured_db = 0;
  double expected_db = 0;   ///< dial + reference level
  double deviation_db = 0;  ///< measured - expected
  double within_db = 0;     ///< the limit, either way
  bool passed = false;
  /// How far the route is down, as evidence for a case; what is too loud counts as much: either
  /// way the level is off. Only where it failed.
  std::optional<double> drop_db;
};

/// The reference levels of one signal by name; the first where no name is given. Complains of a
/// signal without any, and of a name that is none of its own.
[[nodiscard]] Result<const faults::ReferenceLevels*> levels_of(const moves::Setting& setting,
                                                               RouteId route,
                                                               const std::string& set,
                                                               const Place& place);
/// Complains of a frequency that the set does not have, and of a level that is no level.
[[nodiscard]] Result<Level> level_of(const moves::Setting& setting, RouteId route,
                                     const std::string& set, double hz, double measured_db,
                                     const Place& place);

}  // namespace whichlink::routine
