#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "belief/network.h"
#include "belief/set_list.h"

namespace whichlink::belief {

/// A move that could be made, and what could be reported after it.
struct Question {
  std::vector<Transition> transitions;  ///< ascending by fault, no repeats
  std::vector<std::uint32_t> path;      ///< ascending, no repeats
  std::size_t sense = 0;
  std::vector<double> leak_at_most;  ///< as in Hearing
  /// report[severity][outcome]: chance of each report; rows add up to 1.
  std::vector<std::vector<double>> report;
};

struct Outcome {
  double chance = 0;  ///< of this report
  /// By fault: chance that it is present after the move, given the report. Where the report is
  /// impossible: after the move alone.
  std::vector<double> present;
  /// Chance that no fault of `about` is present after the move, given the report (or as above).
  double none_present = 0;
};

class Forecaster;
class ReadQuestion;

/// Some faults, in an order.
struct Wanted {
  static constexpr std::uint32_t kNot = static_cast<std::uint32_t>(-1);
  std::vector<std::uint32_t> faults;
  std::vector<std::uint32_t> place;  ///< by fault: its position in `faults`, or kNot
};
/// @param mask  by fault
[[nodiscard]] Wanted wanted(const std::vector<bool>& mask);

/// Never heard faults make at most this many sets in SetBelief::bits.
constexpr std::size_t kMostInformationSets = 50000;

struct Forecast {
  /// By report. Exact for the belief as it stands: faults that appear by the move, and faults on
  /// the path that no hearing had before, are taken in as independent draws and not as larger sets,
  /// so that nothing more is left out here. (`apply` makes sets, and leaves out those too large.)
  std::vector<Outcome> outcomes;
  /// Mutual information between the report and the set of faults present before the move, in bits.
  /// The set is over the heard faults and those now on the path, and has at most `most_present`
  /// members; larger ones count as impossible and the rest add up to 1. Other faults have no
  /// influence on the report. If the faults that no hearing had before would make more than
  /// kMostInformationSets sets, they are looked at only one at a time, as the only fault present.
  double bits = 0;
};

/// A belief over sets of at most `most_present` faults, kept as a list, cheap enough to ask of
/// every possible move. Only faults that a hearing had on its path are in the sets; all others are
/// independent, and stay simple vectors. Positive sums only: nothing cancels.
/// docs/mathematics.md 4. Memory: the sets of m members have 2^m weights each, 60 heard faults and
/// most_present 2 so 7,201.
class SetBelief {
 public:
  /// @param most_present at least 1
  /// @param prune  sets of at most this share of the total are dropped into Posterior::left_out;
  ///               0 drops only those of weight 0. The heaviest set always stays.
  /// The network must outlive the belief and its copies, and stay where it is.
  SetBelief(const Network& network, std::size_t most_present, double prune);
  SetBelief(Network&& network, std::size_t most_present, double prune) = delete;

  /// Moves every fault and takes the report in. Cost: sets x (moves + severities). Where the report
  /// is impossible, log_evidence becomes -infinity and the belief stays as it was after the move.
  /// Where more than `most_present` faults are certainly present, left_out becomes 1 and the sets
  /// hold none.
  void apply(const Slice& slice);

  /// What each possible report would leave. Does not change the belief.
  /// @param about  faults that Outcome::none_present speaks of (a mask by fault)
  /// Cost: sets x (severities + reports); for each fault that may appear by the move, once more
  /// over the sets that hold it. docs/mathematics.md 5.
  [[nodiscard]] Forecast forecast(const Question& question, const std::vector<bool>& about) const;
  /// Each half of it alone, for who needs only that: the bits are a quarter of the work.
  [[nodiscard]] std::vector<Outcome> outcomes(const Question& question,
                                              const std::vector<bool>& about) const;
  [[nodiscard]] double bits(const Question& question) const;
  /// The same of a question that is read already, with buffers that are used again: the outcomes
  /// stay in the forecaster.
  /// @param wanted  Outcome::present is of these faults alone, in their order
  void forecast(const ReadQuestion& read, const std::vector<bool>& about, const Wanted& wanted,
                Forecaster& into) const;
  [[nodiscard]] double bits(const ReadQuestion& read, Forecaster& buffers) const;
  /// Whether a hearing had each of these faults on its path.
  [[nodiscard]] bool has_heard(const std::vector<std::uint32_t>& path) const;

  /// Tightens left_out by the exact log P(all reports so far) over every set of faults, known from
  /// elsewhere: what the sets do not have of it is what was left out. docs/mathematics.md 4.
  void all_sets_have(double log_evidence);

  /// The same belief without the sets of at most this share: the rest adds up to 1 again.
  [[nodiscard]] SetBelief thinned(double share) const;

  [[nodiscard]] Posterior posterior() const;
  /// log P(all reports so far): Posterior::log_evidence.
  [[nodiscard]] double log_evidence() const { return log_evidence_; }
  /// Chance that none of these faults (a mask by fault) is present.
  [[nodiscard]] double none_of(const std::vector<bool>& about) const;
  /// Chance that each of these faults is in its state; what the others do is all one.
  /// @param states  one for each of `faults`
  [[nodiscard]] double chance_of(const std::vector<std::uint32_t>& faults,
                                 const std::vector<State>& states) const;
  [[nodiscard]] std::size_t sets() const;

 private:
  void normalise(double total);
  void lose_everything();

  const Network* network_;
  std::size_t most_present_;
  double prune_;
  FaultBelief belief_;  ///< after each step, the weights of the sets add up to 1
  double log_evidence_ = 0;
  double lost_ = 0;  ///< upper bound on the weight of what was left out, where the sets have 1
  bool all_lost_ = false;  ///< impossible for the sets, but perhaps not for what was left out
};

}  // namespace whichlink::belief
