#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

/// Pure numbers: faults with three states that move one by one, and hearings of the worst of them.
/// Nothing here knows a plug, a name or a trade. Mathematics: docs/mathematics.md.
namespace whichlink::belief {

enum State : std::size_t { kAbsent = 0, kQuiet = 1, kShowing = 2 };
constexpr std::size_t kStates = 3;

/// Chances of absent, quiet, showing; adds up to 1.
using StateVector = std::array<double, kStates>;
/// matrix[from][to]; each row adds up to 1.
using StateMatrix = std::array<StateVector, kStates>;

constexpr StateMatrix kIdentity = {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};

/// `second` after `first`.
[[nodiscard]] StateMatrix then(const StateMatrix& first, const StateMatrix& second);
/// The vector one step later: row vector times matrix.
[[nodiscard]] StateVector moved(const StateVector& vector, const StateMatrix& matrix);

/// How one fault moves in one step.
struct Transition {
  std::uint32_t fault = 0;
  StateMatrix matrix = kIdentity;
};

/// What is found out at the end of a step. The report depends on the worst severity among the
/// showing faults on the path (and a leak that is always there), by `chance_of_report[severity]`.
struct Hearing {
  std::vector<std::uint32_t> path;  ///< faults that can be heard, ascending, no repeats
  std::size_t sense = 0;            ///< which of Network::at_most applies
  /// leak_at_most[s]: chance that what is heard without any fault is at most s; ascending, last
  /// is 1.
  std::vector<double> leak_at_most;
  /// Chance of what was reported, given each worst severity. A report that tells nothing is all
  /// ones.
  std::vector<double> chance_of_report;
};

/// Whether the report has anything to do with what is heard: one of the same chance for every
/// severity, such as "not sure", leaves all as it was.
[[nodiscard]] bool tells_something(const Hearing& hearing);

/// One move and what was heard after it. Faults without a transition keep their state.
struct Slice {
  std::vector<Transition> transitions;  ///< ascending by fault, no repeats
  Hearing hearing;
};

/// The faults and how they sound. Priors are independent.
struct Network {
  std::vector<StateVector> prior;  ///< by fault
  /// at_most[sense][fault][s]: chance that the fault, showing, sounds at most as bad as s;
  /// ascending, last is 1. All rows of one sense have the same length, the sense's number of
  /// severities.
  std::vector<std::vector<std::vector<double>>> at_most;

  [[nodiscard]] std::size_t faults() const { return prior.size(); }
  [[nodiscard]] std::size_t severities(std::size_t sense) const {
    return at_most[sense].empty() ? 0 : at_most[sense][0].size();
  }
};

/// The result of one arrangement's evidence.
struct Posterior {
  /// Natural logarithm of P(all reports); -infinity if impossible. Where something was left out,
  /// that of the part kept: the true P(all reports) lies between exp(log_evidence) and
  /// exp(log_evidence) / (1 - left_out); -infinity with left_out 1 means impossible for what was
  /// kept.
  double log_evidence = 0;
  std::vector<StateVector>
      marginal;             ///< by fault, given the reports; the prior moved on where evidence is 0
  double none_present = 0;  ///< chance that no fault at all is present
  /// Upper bound on the posterior weight of everything that was left out (0 for exact engines):
  /// every event's true probability is within this of the one shown.
  double left_out = 0;
  double digits_lost =
      0;  ///< log10(sum of sizes / size of sum) of signed sums; 0 where nothing cancels
};

/// The faults after all moves with no report taken in: log_evidence 0, marginals and none_present.
[[nodiscard]] Posterior moved_prior(const Network& network, std::span<const Slice> slices);

}  // namespace whichlink::belief
