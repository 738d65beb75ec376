#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "belief/network.h"

namespace whichlink::belief {

/// A move that could be made, and what could be reported after it.
struct Question {
  std::vector<Transition> transitions;  ///< ascending by fault, no repeats
  std::vector<std::uint32_t> path;      ///< ascending, no repeats
  std::size_t sense = 0;
  std::vector<double> leak_at_most;     ///< as in Hearing
  /// report[severity][outcome]: chance of each report; rows add up to 1.
  std::vector<std::vector<double>> report;
};

struct Outcome {
  double chance = 0;            ///< of this report
  std::vector<double> present;  ///< by fault: chance that it is present after the move, given the report
  double none_present = 0;      ///< chance that no fault of `about` is present after the move, given the report
};

struct Forecast {
  std::vector<Outcome> outcomes;
  /// Mutual information between the report and the set of faults present before the move, in bits.
  double bits = 0;
};

/// A belief over sets of at most `most_present` faults, kept as a list, cheap enough to ask of every
/// possible move. Only faults that a hearing had on its path (or that a hearing made depend on others)
/// are in the sets; all others are independent, and stay simple vectors. Positive sums only: nothing cancels.
class SetBelief {
 public:
  /// @param most_present at least 1
  /// @param prune  sets lighter than this share of the total are dropped into left_out(); 0 keeps all
  SetBelief(const Network& network, std::size_t most_present, double prune);

  /// Moves every fault and takes the report in. Where the report is impossible, log_evidence becomes
  /// -infinity and the belief stays as it was after the move.
  void apply(const Slice& slice);

  /// What each possible report would leave. Does not change the belief.
  /// @param about  faults that Outcome::none_present speaks of (a mask by fault)
  [[nodiscard]] Forecast forecast(const Question& question, const std::vector<bool>& about) const;

  [[nodiscard]] Posterior posterior() const;
  /// Chance that none of these faults (a mask by fault) is present.
  [[nodiscard]] double none_of(const std::vector<bool>& about) const;
  [[nodiscard]] std::size_t sets() const;

 private:
  /* implementation */
};

}  // namespace whichlink::belief
