#include "upkeep/interval.h"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>

#include "upkeep/decay.h"
#include "upkeep/onset.h"

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

// Derivative of undetected_share by the interval; docs/mathematics.md 7.2.
double share_per_day(const Unrevealed& fault, double days) {
  if (fault.rate_per_day <= 0) return 0;
  const double b = fault.chance_found;
  const double z = (fault.rate_per_day + fault.noticed_per_day) * days;
  const double decay = mean_decay(z);
  const double kept = cycle(fault, days).kept;
  // decay * mean_onset(z, 1) is the mean of s e^(-zs) over s from 0 to 1.
  return fault.rate_per_day * b * decay * (b * mean_onset(z, 1) + (1 - b) * decay) / (kept * kept);
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
  // T^2 times the derivative of the cost; it never falls as T grows, so the cost has one valley.
  const auto rise = [&](double days) {
    double slope = 0;
    for (const Unrevealed& fault : faults) slope += fault.cost_per_day * share_per_day(fault, days);
    return days * days * slope - check_cost;
  };
  const auto at = [&](double days) {
    return Interval{days, cost_per_day(check_cost, faults, days)};
  };
  const double at_longest = rise(longest);
  if (at_longest <= 0) return at(longest);
  const double at_shortest = rise(shortest);
  if (at_shortest >= 0) return at(shortest);
  constexpr int kBits = 50;
  std::uintmax_t most_steps = 200;
  const auto [below, above] = boost::math::tools::toms748_solve(
      rise, shortest, longest, at_shortest, at_longest,
      boost::math::tools::eps_tolerance<double>(kBits), most_steps);
  return at((below + above) / 2);
}

}  // namespace whichlink::upkeep
