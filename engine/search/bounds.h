#pragma once

#include <vector>

#include "search/process.h"

namespace whichlink::search {

/// A cost for each choice in each state of one site: [state * choices + choice].
using ChoiceCosts = std::vector<double>;

/// By site: no plan that begins with this choice costs less from this state, even if the state were
/// known one step late: the fast informed bound (Hauskrecht, JAIR 13, 2000, from memory). Iterated
/// from below, so it is a bound however soon it is stopped.
/// @param sweeps  at most so many, fewer once nothing changes by more than 1e-6
[[nodiscard]] std::vector<ChoiceCosts> informed_bound(const Process& process, std::size_t sweeps);

/// A lower bound of the least cost as a function of site and belief. The least cost is concave in
/// the belief (it is the least of the costs of plans, each linear), so it lies above what is
/// interpolated between beliefs with known lower bounds: the sawtooth of Hauskrecht (2000, from
/// memory), between the single states and one point at a time.
class LowerBound {
 public:
  /// The process must outlive it.
  LowerBound(const Process& process, std::size_t sweeps);
  [[nodiscard]] double at(std::size_t site, BeliefView belief) const;
  /// Numbers that a question at this site has to look at.
  [[nodiscard]] std::size_t size(std::size_t site) const {
    return sites_[site].informed.size() + 2 * sites_[site].points.size();
  }
  /// Notes a bound that was proved for this belief. It need not add up to 1.
  void add(std::size_t site, BeliefView belief, double value);

 private:
  struct Point {
    std::vector<std::uint32_t> states;  ///< where it has a chance, and
    std::vector<double> chances;        ///< how much; they add up to 1
    double above = 0;                   ///< what is proved, minus what the single states give
  };
  struct OfSite {
    ChoiceCosts informed;
    std::vector<double> corner;  ///< by state
    std::vector<Point> points;   ///< the highest first
  };
  [[nodiscard]] static double informed_at(const OfSite& here, BeliefView belief);

  std::vector<OfSite> sites_;
};

/// Plans that can be carried out, each as its cost by state of the site where it begins; so the
/// least of them at a belief is what some plan really costs there: an upper bound.
class UpperBound {
 public:
  /// Begins with the choices that end it from every state.
  explicit UpperBound(const Process& process);
  [[nodiscard]] double at(std::size_t site, BeliefView belief) const;
  /// The plan that is best there: an index.
  [[nodiscard]] std::size_t best(std::size_t site, BeliefView belief) const;
  [[nodiscard]] const std::vector<double>& costs(std::size_t site, std::size_t plan) const {
    return plans_[site][plan];
  }
  /// As of LowerBound.
  [[nodiscard]] std::size_t size(std::size_t site) const {
    return plans_[site].size() * plans_[site].front().size();
  }
  /// Plans that are dearer from every state go.
  void add(std::size_t site, std::vector<double> costs);

 private:
  std::vector<std::vector<std::vector<double>>> plans_;  // [site][plan][state]
};

}  // namespace whichlink::search
