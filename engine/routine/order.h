#pragma once

#include <cstddef>
#include <vector>

#include "base/ids.h"

namespace whichlink::routine {

/// A route as a walker sees it: first set up at one place, then heard at another.
struct Stop {
  PlaceId from, to;
  friend bool operator==(const Stop&, const Stop&) = default;
};

/// walking_minutes[from][to], one way, 0 on the diagonal: chain::Chain::walking_minutes.
using Walking = IdVector<PlaceId, IdVector<PlaceId, double>>;

/// Minutes from one stop to the next, being at it included. Somebody alone goes to `from`, then to
/// `to`. Two share it: one is always where routes are set up, the other where they are heard, and
/// both walk at the same time.
[[nodiscard]] double walk_between(const Walking& walking, int people, const Stop& at,
                                  const Stop& next);

struct Order {
  std::vector<std::size_t> stops;  ///< indices, each once
  double minutes = 0;
  bool least =
      true;  ///< proven: every order was weighed; else the nearest stop was taken each time
};

/// The order of least walking from `start` (both people there), not back again. Stops of the same
/// two places are alike, so the search is over how many of each kind are left: exact while that
/// makes at most `most_states`. Among equals the order of `stops` decides, so it is always the
/// same. Cost: states x kinds.
[[nodiscard]] Order least_walk(const Walking& walking, int people, PlaceId start,
                               const std::vector<Stop>& stops, std::size_t most_states = 200'000);

}  // namespace whichlink::routine
