#pragma once

#include <algorithm>
#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/complement.hpp>
#include <boost/math/distributions/geometric.hpp>
#include <boost/math/distributions/negative_binomial.hpp>
#include <boost/math/distributions/poisson.hpp>
#include <boost/math/quadrature/tanh_sinh.hpp>
#include <cmath>

/// How much to have of something before it is known how much is asked for, once, whatever the
/// distribution of the demand: any of Boost.Math with a finite mean, discrete ones on 0, 1, 2 ...
/// (docs/mathematics.md 7.4; K. Arrow, T. Harris & J. Marschak, "Optimal inventory policy",
/// Econometrica 19, 1951, from memory).
namespace whichlink::upkeep {

/// Is it a distribution of whole numbers?
template <class Distribution>
inline constexpr bool kCounts = false;
template <class Real, class Policy>
inline constexpr bool kCounts<boost::math::poisson_distribution<Real, Policy>> = true;
template <class Real, class Policy>
inline constexpr bool kCounts<boost::math::negative_binomial_distribution<Real, Policy>> = true;
template <class Real, class Policy>
inline constexpr bool kCounts<boost::math::geometric_distribution<Real, Policy>> = true;
template <class Real, class Policy>
inline constexpr bool kCounts<boost::math::binomial_distribution<Real, Policy>> = true;

/// The least level that is enough with the chance lacking / (holding + lacking), which has the
/// least cost.
/// @param holding  cost of one that is left, above 0
/// @param lacking  cost of one that is lacking, above 0
template <class Distribution>
[[nodiscard]] double newsvendor_level(const Distribution& demand, double holding, double lacking) {
  const double chance = lacking / (holding + lacking);
  double level = boost::math::quantile(demand, chance);
  if constexpr (kCounts<Distribution>) {
    // The library rounds quantiles outwards: below a half downwards, which is not enough.
    const auto enough = [&](double count) { return boost::math::cdf(demand, count) >= chance; };
    level = std::ceil(level);
    while (!enough(level)) ++level;
    while (level > 0 && enough(level - 1)) --level;
  }
  return level;
}

/// Means of what is left and of what is lacking.
struct Partial {
  double left = 0;   ///< E max(0, level - X)
  double lacks = 0;  ///< E max(0, X - level)
};

/// Of a distribution of whole numbers, by summation of its cdf; of another, by tanh-sinh quadrature
/// of its quantiles over the chance, to about 1e-12.
/// @param level  of a distribution of whole numbers a whole number, at least 0
template <class Distribution>
[[nodiscard]] Partial partial_means(const Distribution& demand, double level) {
  using boost::math::cdf;
  using boost::math::complement;
  using boost::math::quantile;
  Partial means;
  if constexpr (kCounts<Distribution>) {
    const double largest = boost::math::support(demand).second;
    for (double count = 0; count < std::min(level, largest); ++count)
      means.left += cdf(demand, count);
    means.left += std::max(0.0, level - largest);
    // No digits are lost where it is at least the second part; beyond, the tail is summed.
    const double mean = boost::math::mean(demand);
    if (level < mean) {
      means.lacks = mean - level + means.left;
    } else {
      constexpr double kNoMore = 1e-17;
      double more = 1;
      for (double count = level; count < largest && more > kNoMore * means.lacks; ++count) {
        more = cdf(complement(demand, count));
        means.lacks += more;
      }
    }
  } else {
    const auto integral = [](const auto& excess, double chance) {
      if (!(chance > 0)) return 0.0;
      return boost::math::quadrature::tanh_sinh<double>().integrate(excess, 0.0, chance);
    };
    means.left = integral([&](double chance) { return level - quantile(demand, chance); },
                          cdf(demand, level));
    means.lacks =
        integral([&](double chance) { return quantile(complement(demand, chance)) - level; },
                 cdf(complement(demand, level)));
  }
  return means;
}

/// Expected cost of a level: holding * left + lacking * lacks.
template <class Distribution>
[[nodiscard]] double newsvendor_cost(const Distribution& demand, double level, double holding,
                                     double lacking) {
  const Partial means = partial_means(demand, level);
  return holding * means.left + lacking * means.lacks;
}

}  // namespace whichlink::upkeep
