#pragma once

#include <string>
#include <vector>

#include "moves/installation.h"
#include "moves/move.h"

namespace whichlink::guide {

/// Faults that no move can tell apart on one route.
struct Lookalikes {
  std::vector<FaultId> faults;  ///< two or more, ascending
};

struct RouteSurvey {
  RouteId route;
  chain::Path path;
  std::vector<moves::Move> moves;  ///< possible at the start
  std::vector<Lookalikes> lookalikes;
  double faults_per_year = 0;  ///< sum of the middle rates on its way
};

/// What an installation is, seen route by route.
struct Survey {
  std::vector<RouteSurvey> routes;
};

/// Two faults of a route look alike if in every standing within one change of the start, and for
/// every move there, they are both heard or both not, both provoked or both not, both mended or
/// both not, and can sound the same through the move's sense.
[[nodiscard]] Survey survey_of(const moves::Setting& setting);

}  // namespace whichlink::guide
