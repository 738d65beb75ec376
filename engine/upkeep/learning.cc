#include "upkeep/learning.h"

#include <boost/math/special_functions/beta.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>

namespace whichlink::upkeep {
namespace {

namespace policies = boost::math::policies;

// In double and nothing wider: what is wider differs between machines. No exceptions; what has no
// number is not one.
using Plain = policies::policy<
    policies::promote_double<false>, policies::domain_error<policies::ignore_error>,
    policies::pole_error<policies::ignore_error>, policies::overflow_error<policies::ignore_error>,
    policies::evaluation_error<policies::ignore_error>>;

// Of a gamma distribution with exposure 1.
double plain_quantile(double shape, double chance) {
  return boost::math::gamma_p_inv(shape, chance, Plain());
}

/// The shape for which the two quantiles have this ratio; it falls as the shape grows.
double shape_of(double p1, double p2, double ratio) {
  // Positive where the shape is too small.
  const auto excess = [&](double log_shape) {
    const double shape = std::exp(log_shape);
    const double first = plain_quantile(shape, p1);
    const double second = plain_quantile(shape, p2);
    // Too small for a number: the ratio is larger than any that can be asked for.
    constexpr double kBeyond = 1e4;
    if (first <= 0) return kBeyond;
    return std::log(second / first) - std::log(ratio);
  };
  const double low = std::log(kLeastShape);
  const double high = std::log(kMostShape);
  const double at_low = excess(low);
  if (at_low <= 0) return kLeastShape;
  const double at_high = excess(high);
  if (at_high >= 0) return kMostShape;
  constexpr int kBits = 50;
  std::uintmax_t most_steps = 200;
  const auto [below, above] = boost::math::tools::toms748_solve(
      excess, low, high, at_low, at_high, boost::math::tools::eps_tolerance<double>(kBits),
      most_steps, Plain());
  return std::exp((below + above) / 2);
}

}  // namespace

double Gamma::quantile(double chance) const {
  return plain_quantile(shape, chance) / exposure;
}

double Gamma::cdf(double rate) const {
  return rate > 0 ? boost::math::gamma_p(shape, exposure * rate, Plain()) : 0;
}

double Gamma::chance_of_none(double item_years) const {
  return std::exp(-shape * std::log1p(item_years / exposure));
}

double Gamma::chance_of(std::size_t count, double item_years) const {
  const auto k = static_cast<double>(count);
  const double p = exposure / (exposure + item_years);
  const double q = item_years / (exposure + item_years);
  // By the smaller of p and q, of which no digits are lost.
  const double density = q < p ? boost::math::ibeta_derivative(k + 1, shape, q, Plain())
                               : boost::math::ibeta_derivative(shape, k + 1, p, Plain());
  return p / (shape + k) * density;
}

double Gamma::chance_of_at_most(std::size_t count, double item_years) const {
  const auto k = static_cast<double>(count);
  const double q = item_years / (exposure + item_years);
  return boost::math::ibetac(k + 1, shape, q, Plain());
}

Gamma gamma_from_quantiles(double p1, double x1, double p2, double x2) {
  const double shape = shape_of(p1, p2, x2 / x1);
  // Within the limits both quantiles ask for the same exposure; beyond, it is their mean.
  return {shape,
          std::sqrt(plain_quantile(shape, p1) / x1) * std::sqrt(plain_quantile(shape, p2) / x2)};
}

Gamma gamma_from(double low, double mid, double high) {
  const double shape = shape_of(.05, .95, high / low);
  return {shape, plain_quantile(shape, .5) / mid};
}

}  // namespace whichlink::upkeep
