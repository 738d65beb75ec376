#pragma once

#include <cstddef>
#include <vector>

#include "upkeep/learning.h"

/// How many spare parts are asked for, and what a stock of them leaves open (docs/mathematics.md
/// 7.4). Knows nothing of what the parts are.
namespace whichlink::upkeep {

/// One source of demand for a part.
struct Stream {
  Gamma rate;  ///< of events, per item and year
  /// Parts a year for each unit of the rate, at least 0: how many items there are, times the share
  /// of their events that end in this part.
  double takes = 1;
};

/// Counts above this are not told apart: a stock of more is taken as a stock of this. What is said
/// of smaller stocks stays right.
constexpr std::size_t kMostAskedFor = 16384;

/// How many parts are asked for in a stretch of time. Given its rate each stream asks as a Poisson
/// process; with the doubt about the rate its count is negative binomial, and the streams are
/// independent. Chances are exact but for rounding (E. Furman, "On the convolution of the negative
/// binomial random variables", 2007, from memory: the sum by a recurrence of positive terms), and
/// the terms left out weigh less than 1e-25, so that even a tail of 1e-15 keeps nine digits.
/// Example: Demand({{Gamma{4, 3309}, 1}}, 2160).least_for(.95) is 7.
class Demand {
 public:
  /// No streams, none that takes anything, or no time: nothing is asked for.
  /// @param years  at least 0, in the unit of the rates
  Demand(const std::vector<Stream>& streams, double years);
  /// Of a rate that is known.
  /// @param mean  parts expected, at least 0
  [[nodiscard]] static Demand poisson(double mean);

  [[nodiscard]] double mean() const { return mean_; }
  [[nodiscard]] double variance() const { return variance_; }
  [[nodiscard]] double chance_of(std::size_t count) const;
  [[nodiscard]] double chance_of_at_most(std::size_t count) const;
  /// Not 1 less the other: small chances keep their digits.
  [[nodiscard]] double chance_of_more(std::size_t count) const;
  /// Mean number lacking, E max(0, X - stock) ("expected backorders").
  [[nodiscard]] double expected_short(std::size_t stock) const;
  /// Mean number left, E max(0, stock - X).
  [[nodiscard]] double expected_left(std::size_t stock) const;
  /// The smallest count that is not exceeded with this chance or a larger one, 0 to 1. For 1 the
  /// largest count kept, beyond which lies less than 1e-25.
  [[nodiscard]] std::size_t least_for(double chance) const;
  /// The largest count told apart: from here on nothing is short but for 1e-25, unless this is
  /// kMostAskedFor.
  [[nodiscard]] std::size_t most() const { return chance_.size() - 1; }

 private:
  struct Sources;
  explicit Demand(const Sources& sources);

  double mean_ = 0;
  double variance_ = 0;
  // One number a count, from 0 to most().
  std::vector<double> chance_;
  std::vector<double> at_most_;
  std::vector<double> more_;
  std::vector<double> short_;
  std::vector<double> left_;
};

}  // namespace whichlink::upkeep
