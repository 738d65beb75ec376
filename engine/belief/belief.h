#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "belief/network.h"

namespace whichlink::belief {

/// How a posterior was computed.
enum class Method { joint, thresholds, subsets };

/// Digits that every number of a signed sum must have left after the terms have cancelled.
constexpr double kTrustedDigits = 13;

struct ThresholdResult {
  Posterior posterior;
  bool fits = false;  ///< false: too many terms or too many digits lost; posterior is empty
  std::size_t terms = 0;
  /// Slices that went in before there were too many terms: these alone would fit. 0 if digits were
  /// lost.
  std::size_t slices_taken = 0;
};
/// Exact posterior as a signed sum of products (docs/mathematics.md 3): every set of faults counts.
/// Faults that no hearing has on its path are moved along on their own. Runs in double; where that
/// leaves fewer than kTrustedDigits digits, again in double-double.
/// Impossible reports give log_evidence -infinity and the prior moved on, if a look at one fault at
/// a time shows that they are; if only several faults together show it, the sum cancels altogether
/// and `fits` is false.
/// @param most_terms  gives up (`fits` is false) once the sum would need more terms than this
/// Cost: terms x (moves + faults on the path), for each slice.
[[nodiscard]] ThresholdResult by_thresholds(const Network& network, std::span<const Slice> slices,
                                            std::size_t most_terms = 4096);

/// Posterior over all sets of at most `most_present` faults present at once; never cancels. What is
/// left out is bounded in Posterior::left_out; with most_present >= number of faults it is exact.
/// Sets whose weight falls below `prune` of the total are dropped into the bound (0: keep all).
/// Cost: sets x slices; up to (heard faults choose most_present) sets of 2^most_present weights
/// each.
[[nodiscard]] Posterior by_subsets(const Network& network, std::span<const Slice> slices,
                                   std::size_t most_present, double prune = 0);

/// The product of the numbers of thresholds that each hearing has: the signed sum has at most as
/// many terms.
[[nodiscard]] double terms_at_most(const Network& network, std::span<const Slice> slices);

struct Choice {
  Posterior posterior;
  Method method = Method::thresholds;
  std::size_t most_present = 0;  ///< subsets only
};
/// The best of the ways for this evidence: the joint of the heard faults (joint.h; exact, no
/// cancelling) where they are few enough for it to cost less than the signed sum, else the signed
/// sum, else the joint where it can be afforded, else the smallest sets (1 to 3 faults) whose bound
/// is below `aim` (or the largest affordable).
[[nodiscard]] Choice best_posterior(const Network& network, std::span<const Slice> slices,
                                    double aim = 1e-3);

}  // namespace whichlink::belief
