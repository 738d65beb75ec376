// Which of the ways to a posterior, and how large the sets must be.

#include <algorithm>
#include <cmath>
#include <limits>

#include "belief/belief.h"
#include "belief/joint.h"
#include "belief/set_belief.h"

namespace whichlink::belief {
namespace {

constexpr double kFewWeights = 250;            // of a joint that is cheap at any rate
constexpr double kMostExactWeights = 600'000;  // of a joint: 5 MB
constexpr double kMostLikelihoods = 100'000;   // 8 MB with 10 severities
// What a fault costs in a term of the signed sum, where a weight of the joint costs 1 in each slice
// and a quarter for each moved fault (1.4 ns). Measured: 6 in double (tests/bench/ways) and 70
// where it is run again in double-double (tests/bench/update); which, only the sum itself tells.
constexpr double kCostInATerm = 30;
constexpr double kMostWeights = 2'000'000;  // 16 MB of weights; more is not affordable
constexpr std::size_t kLargestSize = 3;
constexpr std::size_t kMostTerms = 4096;
constexpr std::size_t kMostVectors =
    2'000'000;  // terms x heard faults: 48 MB, or 96 in double-double

/// Weights that sets of at most `most_present` of `heard` faults have: the sum of 2^k C(heard, k).
double weights_needed(std::size_t heard, std::size_t most_present) {
  double sets_of_size = 1;
  double total = 1;
  for (std::size_t size = 1; size <= most_present && size <= heard; ++size) {
    sets_of_size *= 2 * static_cast<double>(heard - size + 1) / static_cast<double>(size);
    total += sets_of_size;
  }
  return total;
}

/// The first slices, and the exact log P of their reports.
struct Known {
  std::size_t slices = 0;
  double log_evidence = 0;
};

Posterior subsets(const Network& network, std::span<const Slice> slices, std::size_t most_present,
                  double prune, const Known& known) {
  SetBelief belief(network, most_present, prune);
  for (std::size_t index = 0; index < slices.size(); ++index) {
    belief.apply(slices[index]);
    if (index + 1 == known.slices) belief.all_sets_have(known.log_evidence);
  }
  Posterior result = belief.posterior();
  if (std::isinf(result.log_evidence)) {
    const double left_out = result.left_out;
    result = moved_prior(network, slices);
    result.log_evidence = -std::numeric_limits<double>::infinity();
    result.left_out = left_out;
  }
  return result;
}

/// In units of one weight in one slice.
double cost_of_joint(const JointShape& shape, std::span<const Slice> slices) {
  double passes = 0;
  for (const Slice& slice : slices) {
    passes += 1 + static_cast<double>(slice.transitions.size()) / 4;
  }
  return shape.weights * passes;
}

}  // namespace

Posterior by_subsets(const Network& network, std::span<const Slice> slices,
                     std::size_t most_present, double prune) {
  return subsets(network, slices, most_present, prune, {});
}

Choice best_posterior(const Network& network, std::span<const Slice> slices, double aim) {
  const JointShape shape = joint_shape(network, slices);
  const std::size_t heard = shape.axes.size();
  const auto joint = [&] { return Choice{by_joint(network, slices, shape), Method::joint, 0}; };
  const bool joint_fits =
      shape.weights <= kMostExactWeights && shape.likelihoods <= kMostLikelihoods;
  if (joint_fits && shape.weights <= kFewWeights) return joint();
  if (joint_fits && cost_of_joint(shape, slices) <= kCostInATerm * static_cast<double>(heard) *
                                                        terms_at_most(network, slices)) {
    return joint();
  }
  ThresholdResult thresholds =
      by_thresholds(network, slices, std::min(kMostTerms, kMostVectors / heard));
  if (thresholds.fits) return {std::move(thresholds.posterior), Method::thresholds, 0};
  if (joint_fits) return joint();

  // As many slices as fit tell how much the sets miss up to there; only what comes later must be
  // bounded.
  Known known;
  if (thresholds.slices_taken > 0) {
    const ThresholdResult first = by_thresholds(network, slices.first(thresholds.slices_taken),
                                                std::min(kMostTerms, kMostVectors / heard));
    if (first.fits) known = {thresholds.slices_taken, first.posterior.log_evidence};
  }
  Choice choice{subsets(network, slices, 1, 0, known), Method::subsets, 1};
  for (std::size_t size = 2; size <= kLargestSize; ++size) {
    if (choice.posterior.left_out < aim || weights_needed(heard, size) > kMostWeights) break;
    choice = {subsets(network, slices, size, 0, known), Method::subsets, size};
  }
  return choice;
}

}  // namespace whichlink::belief
