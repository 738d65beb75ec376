#include "routine/order.h"

#include <algorithm>
#include <limits>

namespace whichlink::routine {
namespace {

/// Stops of the same two places.
struct Kinds {
  std::vector<Stop> places;
  std::vector<std::vector<std::size_t>> stops;  ///< by kind, in the order given
};

Kinds kinds_of(const std::vector<Stop>& stops) {
  Kinds kinds;
  for (std::size_t index = 0; index < stops.size(); ++index) {
    const auto found = std::find(kinds.places.begin(), kinds.places.end(), stops[index]);
    const auto kind = static_cast<std::size_t>(found - kinds.places.begin());
    if (found == kinds.places.end()) {
      kinds.places.push_back(stops[index]);
      kinds.stops.emplace_back();
    }
    kinds.stops[kind].push_back(index);
  }
  return kinds;
}

/// Least walking by how many stops of each kind are left and where one stands, worked out backwards
/// from "none left". A state is a number of mixed digits: digit k says how many of kind k are left.
class Search {
 public:
  Search(const Walking& walking, int people, const Kinds& kinds)
      : walking_(walking), people_(people), kinds_(kinds) {
    std::size_t weight = 1;
    for (const auto& stops : kinds_.stops) {
      weight_.push_back(weight);
      weight *= stops.size() + 1;
    }
    least_.assign(weight, std::vector<double>(kinds_.places.size(), 0));
    for (std::size_t state = 1; state < weight; ++state) {
      for (std::size_t last = 0; last < kinds_.places.size(); ++last) {
        least_[state][last] = cost_of(state, kinds_.places[last], best(state, kinds_.places[last]));
      }
    }
  }

  [[nodiscard]] Order from(PlaceId start) const {
    Order order;
    Stop at{start, start};
    std::vector<std::size_t> used(kinds_.places.size(), 0);
    for (std::size_t state = least_.size() - 1; state > 0;) {
      const std::size_t next = best(state, at);
      order.minutes += walk_between(walking_, people_, at, kinds_.places[next]);
      order.stops.push_back(kinds_.stops[next][used[next]++]);
      at = kinds_.places[next];
      state -= weight_[next];
    }
    return order;
  }

 private:
  [[nodiscard]] bool has(std::size_t state, std::size_t kind) const {
    return state / weight_[kind] % (kinds_.stops[kind].size() + 1) > 0;
  }
  [[nodiscard]] double cost_of(std::size_t state, const Stop& at, std::size_t next) const {
    return walk_between(walking_, people_, at, kinds_.places[next]) +
           least_[state - weight_[next]][next];
  }
  [[nodiscard]] std::size_t best(std::size_t state, const Stop& at) const {
    // So that a sum that comes out in another order is not taken for a shorter way.
    constexpr double kSameSum = 1e-9;
    std::size_t best = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t kind = 0; kind < kinds_.places.size(); ++kind) {
      if (!has(state, kind)) continue;
      const double cost = cost_of(state, at, kind);
      if (cost >= least - kSameSum) continue;
      least = cost;
      best = kind;
    }
    return best;
  }

  const Walking& walking_;
  int people_;
  const Kinds& kinds_;
  std::vector<std::size_t> weight_;
  std::vector<std::vector<double>> least_;  ///< [state][kind of the last stop]
};

Order nearest_first(const Walking& walking, int people, PlaceId start,
                    const std::vector<Stop>& stops) {
  Order order;
  order.least = false;
  Stop at{start, start};
  std::vector<bool> done(stops.size(), false);
  for (std::size_t count = 0; count < stops.size(); ++count) {
    std::size_t next = stops.size();
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t index = 0; index < stops.size(); ++index) {
      const double minutes = walk_between(walking, people, at, stops[index]);
      if (done[index] || minutes >= least) continue;
      least = minutes;
      next = index;
    }
    done[next] = true;
    order.minutes += least;
    order.stops.push_back(next);
    at = stops[next];
  }
  return order;
}

}  // namespace

double walk_between(const Walking& walking, int people, const Stop& at, const Stop& next) {
  if (people >= 2) return std::max(walking[at.from][next.from], walking[at.to][next.to]);
  return walking[at.to][next.from] + walking[next.from][next.to];
}

Order least_walk(const Walking& walking, int people, PlaceId start, const std::vector<Stop>& stops,
                 std::size_t most_states) {
  const Kinds kinds = kinds_of(stops);
  std::size_t states = kinds.places.size();
  for (const auto& one : kinds.stops) {
    if (states > most_states) break;
    states *= one.size() + 1;
  }
  if (states > most_states) return nearest_first(walking, people, start, stops);
  return Search(walking, people, kinds).from(start);
}

}  // namespace whichlink::routine
