#pragma once

#include <vector>

#include "search/process.h"

namespace whichlink::search {

/// [action][state]: no plan that begins with this action costs less from this state, even if the
/// state were known one step late: the fast informed bound (Hauskrecht, JAIR 13, 2000, from
/// memory). Iterated from 0, so it is a bound however soon it is stopped.
/// @param sweeps  at most so many, fewer once nothing changes by more than 1e-12
[[nodiscard]] std::vector<std::vector<double>> informed_bound(const Process& process,
                                                              std::size_t sweeps);
/// A lower bound of the least cost from this belief, by informed_bound.
[[nodiscard]] double least(const std::vector<std::vector<double>>& bound, const Belief& belief);

/// A lower bound of the least cost as a function of the belief. The least cost is concave (it is
/// the least of the costs of plans, each linear in the belief), so it lies above what is
/// interpolated between beliefs with known lower bounds: the sawtooth of Hauskrecht (2000, from
/// memory), between the single states and one point at a time.
class LowerBound {
 public:
  LowerBound(const Process& process, std::size_t sweeps);
  [[nodiscard]] double at(const Belief& belief) const;
  /// Notes a bound that was proved for this belief. It need not add up to 1.
  void add(const Belief& belief, double value);
  [[nodiscard]] std::size_t points() const { return points_.size(); }

 private:
  struct Point {
    std::vector<Entry> belief;  ///< adds up to 1
    double above = 0;           ///< what is proved, minus what the single states give
  };
  [[nodiscard]] double between_states(const Belief& belief) const;

  std::vector<std::vector<double>> informed_;
  std::vector<double> corner_;  ///< by state
  std::vector<Point> points_;
};

/// Plans that can be carried out, each as its cost by state; so the least of them at a belief is
/// what some plan really costs there: an upper bound.
class UpperBound {
 public:
  /// Begins with the actions that lead to the end from every state.
  explicit UpperBound(const Process& process);
  [[nodiscard]] double at(const Belief& belief) const;
  /// The plan that is best there: an index.
  [[nodiscard]] std::size_t best(const Belief& belief) const;
  [[nodiscard]] const std::vector<double>& costs(std::size_t plan) const { return plans_[plan]; }
  void add(std::vector<double> costs);
  [[nodiscard]] std::size_t plans() const { return plans_.size(); }

 private:
  std::vector<std::vector<double>> plans_;
};

}  // namespace whichlink::search
