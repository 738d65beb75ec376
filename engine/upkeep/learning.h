#pragma once

#include <cstddef>

/// What a record of faults says of their rate. A rate is not known but believed, as a gamma
/// distribution; counts of faults are Poisson, so that what is believed after them is a gamma
/// distribution again (docs/mathematics.md 7.3).
namespace whichlink::upkeep {

/// A rate per item and year. Equal to having seen `shape` faults in `exposure` item-years, and
/// nothing before. Any other unit of time does as well. All results are those of the gamma
/// distribution with density proportional to x^(shape - 1) e^(-exposure x).
struct Gamma {
  double shape = 1;     ///< above 0
  double exposure = 1;  ///< above 0

  [[nodiscard]] double mean() const { return shape / exposure; }
  [[nodiscard]] double median() const { return quantile(.5); }
  /// The rate that the true one does not exceed with this chance, 0 to 1 (exclusive).
  [[nodiscard]] double quantile(double chance) const;
  /// Chance that the rate is at most this.
  [[nodiscard]] double cdf(double rate) const;

  /// What is believed after `events` faults in `item_years` more.
  /// @param events      at least 0; shares of a fault where it is not sure that there was one
  /// @param item_years  at least 0
  [[nodiscard]] Gamma updated(double events, double item_years) const {
    return {shape + events, exposure + item_years};
  }

  /// Chance of no fault in `item_years` to come, at least 0, with the doubt about the rate in it:
  /// (exposure / (exposure + item_years))^shape.
  [[nodiscard]] double chance_of_none(double item_years) const;
  /// Chance of `count` faults, and of at most `count`: the negative binomial distribution (A.
  /// Gelman et al., Bayesian Data Analysis, 3rd ed., 2013, section 2.6).
  [[nodiscard]] double chance_of(std::size_t count, double item_years) const;
  [[nodiscard]] double chance_of_at_most(std::size_t count, double item_years) const;
};

/// Shapes that a judgement can lead to; in limits, high / low from 1.00004 to 1e63.
constexpr double kLeastShape = .02;
constexpr double kMostShape = 1e10;

/// The rate that has these quantiles. Where x2 / x1 asks for a shape beyond the limits above, the
/// nearest of them, and each quantile is missed by the same factor.
/// @param p1  chance that the rate is at most x1, above 0 and below p2
/// @param p2  below 1
/// @param x1  above 0 and below x2
[[nodiscard]] Gamma gamma_from_quantiles(double p1, double x1, double p2, double x2);

/// The rate whose median is `mid` and whose quantiles of 95 % and 5 % are as high / low. `low` and
/// `high` themselves are met only where the judgement is as skewed as a gamma distribution.
/// Preconditions: 0 < low < high, mid > 0. Beyond the limits of shape, the nearest of them.
[[nodiscard]] Gamma gamma_from(double low, double mid, double high);

}  // namespace whichlink::upkeep
