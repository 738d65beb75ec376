#pragma once

#include <optional>

#include "drill/habit.h"
#include "guide/case.h"

namespace whichlink::drill {

/// What every choice at one step is worth to somebody who believes what the answers so far say, in
/// priced minutes still to go (docs/mathematics.md 6.2 and 8): one function for all of them, known
/// before the answer is.
class Values {
 public:
  /// Plans once. @param track  of the same case
  Values(const guide::Case& one, const guide::Track& track, const plan::Depth& depth);

  /// A move: itself and what is to come. Closing: a fault left in by its chance; with something
  /// still changed, the price of a fault left in, for the route is not as it should be. Service: as
  /// planned.
  [[nodiscard]] double of(const Choice& choice) const;
  /// The least of all choices.
  [[nodiscard]] double least() const { return least_; }
  /// What the planner does here.
  [[nodiscard]] const Choice& advised() const { return advised_; }
  [[nodiscard]] double of_advised() const { return of(advised_); }
  /// Minutes lost by a choice: its value less the least one; 0 for what the planner does. Never
  /// below 0.
  [[nodiscard]] double lost_by(const Choice& choice) const;
  [[nodiscard]] const guide::Advice& advice() const { return advice_; }
  /// Chance, believed now, that the route is not sound once everything is put back.
  [[nodiscard]] double something_wrong() const { return all_.something_wrong; }
  /// The move as the plan has it.
  [[nodiscard]] const plan::Candidate* candidate(const std::string& name) const;

 private:
  guide::Advice advice_;
  plan::Plan all_;  ///< of every move that is possible, worn out or not
  Choice advised_;
  bool changed_ = false;  ///< something is still to be put back
  double miss_minutes_ = 0;
  double least_ = 0;
};

/// Whether two choices are the same.
[[nodiscard]] bool same(const Choice& a, const Choice& b);

}  // namespace whichlink::drill
