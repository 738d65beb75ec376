// Which of the two ways to a posterior, and how large the sets must be.

#include <algorithm>
#include <cmath>
#include <limits>

#include "belief/belief.h"
#include "belief/set_belief.h"

namespace whichlink::belief {
namespace {

constexpr double kFewWeights = 250;           // 3^5: all sets of 5 heard faults, cheap at any rate
constexpr double kMostExactWeights = 60'000;  // 3^10: all sets of 10 heard faults
// What a fault costs in a term of the signed sum, where a weight of a set costs 1 in each slice:
// 46 ns and 15 ns (tests/bench/update).
constexpr double kCostInATerm = 3;
constexpr double kMostWeights = 2'000'000;  // 16 MB of weights; more is not affordable
constexpr std::size_t kLargestSize = 3;
constexpr std::size_t kMostTerms = 4096;
constexpr std::size_t kMostVectors =
    2'000'000;  // terms x heard faults: 48 MB, or 96 in double-double

std::size_t heard_faults(const Network& network, std::span<const Slice> slices) {
  std::vector<bool> heard(network.faults(), false);
  std::size_t count = 0;
  for (const Slice& slice : slices) {
    for (const std::uint32_t fault : slice.hearing.path) {
      if (!heard[fault]) ++count;
      heard[fault] = true;
    }
  }
  return count;
}

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

}  // namespace

Posterior by_subsets(const Network& network, std::span<const Slice> slices,
                     std::size_t most_present, double prune) {
  return subsets(network, slices, most_present, prune, {});
}

Choice best_posterior(const Network& network, std::span<const Slice> slices, double aim) {
  const std::size_t heard = heard_faults(network, slices);
  const double weights = weights_needed(heard, heard);
  const auto all_sets = [&] {
    const std::size_t size = std::max<std::size_t>(heard, 1);
    return Choice{by_subsets(network, slices, size), Method::subsets, size};
  };
  const bool all_sets_fit = weights <= kMostExactWeights;
  if (weights <= kFewWeights) return all_sets();
  if (all_sets_fit &&
      weights * static_cast<double>(slices.size()) <=
          kCostInATerm * static_cast<double>(heard) * terms_at_most(network, slices)) {
    return all_sets();
  }
  ThresholdResult thresholds =
      by_thresholds(network, slices, std::min(kMostTerms, kMostVectors / heard));
  if (thresholds.fits) return {std::move(thresholds.posterior), Method::thresholds, 0};
  if (all_sets_fit) return all_sets();

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
