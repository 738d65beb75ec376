#include "upkeep/base_stock.h"

namespace whichlink::upkeep {
namespace {

/// Mean over the positions of what `at` says of each.
template <class Function>
double mean_over(std::size_t level, std::size_t batch, const Function& at) {
  double sum = 0;
  for (std::size_t more = 0; more < batch; ++more) sum += at(level + more);
  return sum / static_cast<double>(batch);
}

/// The smallest level from 0 to `most` that is enough; if none is, `most`. What is enough stays so.
template <class Predicate>
std::size_t least_level(std::size_t most, const Predicate& enough) {
  std::size_t low = 0;
  std::size_t high = most;
  while (low < high) {
    const std::size_t middle = low + (high - low) / 2;
    if (enough(middle)) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  return low;
}

double chance_out(const Demand& demand, std::size_t level, std::size_t batch) {
  return mean_over(level, batch,
                   [&](std::size_t position) { return demand.chance_of_more(position); });
}

}  // namespace

Stocked stocked(const Demand& demand, std::size_t level, std::size_t batch) {
  return {chance_out(demand, level, batch),
          mean_over(level, batch,
                    [&](std::size_t position) { return demand.expected_short(position); }),
          mean_over(level, batch,
                    [&](std::size_t position) { return demand.expected_left(position); })};
}

std::size_t level_for_service(const Demand& demand, double service, std::size_t batch) {
  return least_level(demand.most(), [&](std::size_t level) {
    return chance_out(demand, level, batch) <= 1 - service;
  });
}

double cost_of_level(const Demand& demand, std::size_t level, double holding, double lacking,
                     std::size_t batch) {
  const Stocked here = stocked(demand, level, batch);
  return holding * here.expected_held + lacking * here.expected_short;
}

std::size_t cheapest_level(const Demand& demand, double holding, double lacking,
                           std::size_t batch) {
  // One more costs holding while it is not used, and saves lacking while it is.
  return least_level(demand.most(), [&](std::size_t level) {
    const double unused = mean_over(
        level, batch, [&](std::size_t position) { return demand.chance_of_at_most(position); });
    return holding * unused >= lacking * chance_out(demand, level, batch);
  });
}

}  // namespace whichlink::upkeep
