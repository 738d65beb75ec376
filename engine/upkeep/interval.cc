#include "upkeep/interval.h"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <cstddef>
#include <cstdint>

#include "upkeep/decay.h"

namespace whichlink::upkeep {
namespace {

/// What the chain of two states (sound; there and unknown) is made of, over one interval. With b
/// the chance of being found, r the rate, n that of being noticed, k = r + n and z = k T, the
/// chance u of "there and unknown" obeys u' = r (1 - u) - n u between checks, and a check leaves (1
/// - b) u of it. In the long run its mean is r T begun / kept. Sums of positive numbers only.
struct Cycle {
  double begun;  ///< b mean_loss(z) + (1 - b) mean_decay(z)
  double kept;   ///< 1 - (1 - b) e^-z
  double sound;  ///< the mean of 1 - u is sound / kept
};

Cycle cycle(const Unrevealed& fault, double days) {
  const double missed = 1 - fault.chance_found;
  const double both = fault.rate_per_day + fault.noticed_per_day;
  const double z = both * days;
  const double decay = mean_decay(z);
  const double kept = fault.chance_found - missed * std::expm1(-z);
  // For both rates 0 the next two are of no account: kept is chance_found then.
  const double noticed = both > 0 ? fault.noticed_per_day / both : 0;
  const double begins = both > 0 ? fault.rate_per_day / both : 1;
  return {fault.chance_found * mean_loss(z) + missed * decay, kept,
          noticed * kept + begins * fault.chance_found * decay};
}

}  // namespace

double undetected_days(const Unrevealed& fault, double interval_days) {
  const Cycle here = cycle(fault, interval_days);
  return interval_days * here.begun / here.sound;
}

double undetected_share(const Unrevealed& fault, double interval_days) {
  if (fault.rate_per_day <= 0) return 0;
  const Cycle here = cycle(fault, interval_days);
  return std::min(1.0, fault.rate_per_day * interval_days * here.begun / here.kept);
}

double cost_per_day(double check_cost, const std::vector<Unrevealed>& faults,
                    double interval_days) {
  double cost = check_cost / interval_days;
  for (const Unrevealed& fault : faults)
    cost += fault.cost_per_day * undetected_share(fault, interval_days);
  return cost;
}

Interval cheapest_interval(double check_cost, const std::vector<Unrevealed>& faults,
                           double shortest, double longest) {
  constexpr std::size_t kSteps = 400;
  const double low = std::log(shortest);
  const double step = (std::log(longest) - low) / kSteps;
  const auto cost_at = [&](double log_days) {
    return cost_per_day(check_cost, faults, std::exp(log_days));
  };
  std::vector<double> costs;
  for (std::size_t index = 0; index <= kSteps; ++index)
    costs.push_back(cost_at(low + step * static_cast<double>(index)));

  Interval best{shortest, cost_per_day(check_cost, faults, shortest)};
  const auto offer = [&](double days, double cost) {
    if (cost <= best.cost_per_day) best = {days, cost};
  };
  for (std::size_t index = 1; index < kSteps; ++index) {
    if (costs[index] > costs[index - 1] || costs[index] > costs[index + 1]) continue;
    // Half of a double's digits: nearer to a minimum its values no longer differ.
    constexpr int kBits = 26;
    std::uintmax_t most_steps = 100;
    const double middle = low + step * static_cast<double>(index);
    const auto [log_days, cost] = boost::math::tools::brent_find_minima(
        cost_at, middle - step, middle + step, kBits, most_steps);
    offer(std::clamp(std::exp(log_days), shortest, longest), cost);
  }
  offer(longest, cost_per_day(check_cost, faults, longest));
  return best;
}

}  // namespace whichlink::upkeep
