#pragma once

#include <cstddef>
#include <vector>

namespace whichlink::belief {

/// Mutual information between a report and a set of faults (docs/mathematics.md 5.1), from the
/// joint chances of each set and each worst severity. Most of a forecast's time goes into its
/// logarithms, so the sets are taken in blocks, and each step is done for the whole block at once.
class Information {
 public:
  /// Begins anew; what it holds is used again.
  /// @param report  report[severity][outcome], as in Question
  void start(const std::vector<std::vector<double>>& report);

  /// One set: P(set, worst severity), by severity.
  void add(const double* worst);
  /// What all sets so far say. Their chances need not add up to 1.
  [[nodiscard]] double bits();

 private:
  static constexpr std::size_t kBlock = 32;  // sets; must be even

  void finish_block();

  struct Entry {
    std::size_t severity;
    double chance;
  };
  std::size_t severities_ = 0;
  std::vector<Entry> entries_;            // outcome by outcome: the severities that can give it
  std::vector<std::size_t> entries_end_;  // by outcome
  std::vector<double> worst_;             // [severity][set of the block]
  std::size_t in_block_ = 0;
  std::vector<double> outcome_chance_;  // by outcome
  double joint_ = 0;                    // sum of P(set, outcome) log2 P(set, outcome)
  double sets_ = 0;                     // sum of P(set) log2 P(set)
};

}  // namespace whichlink::belief
