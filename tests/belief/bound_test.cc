// What is left out is bounded: no number of a belief over small sets is further off than left_out.

#include <gtest/gtest.h>

#include <cmath>

#include "belief/belief.h"
#include "belief/enumeration.h"
#include "belief/random_case.h"
#include "belief/set_belief.h"

namespace whichlink {
namespace {

using belief::Posterior;

constexpr double kRounding = 1e-12;

/// The largest error of any marginal and of none_present.
double largest_error(const Posterior& expected, const Posterior& found) {
  double error = std::abs(expected.none_present - found.none_present);
  for (std::size_t fault = 0; fault < expected.marginal.size(); ++fault) {
    for (std::size_t state = 0; state < belief::kStates; ++state) {
      error =
          std::max(error, std::abs(expected.marginal[fault][state] - found.marginal[fault][state]));
    }
  }
  return error;
}

void expect_bounded(const Posterior& expected, const Posterior& found, std::uint64_t seed) {
  ASSERT_GE(found.left_out, 0) << "seed " << seed;
  ASSERT_LE(found.left_out, 1) << "seed " << seed;
  ASSERT_LE(largest_error(expected, found), found.left_out + kRounding) << "seed " << seed;
  // The evidence of what was kept is a lower bound, and left_out says how far up the truth can be.
  const double kept = std::exp(found.log_evidence);
  const double all = std::exp(expected.log_evidence);
  ASSERT_LE(kept, all * (1 + kRounding)) << "seed " << seed;
  if (found.left_out < 1 && kept > 0) {
    ASSERT_LE(all, kept / (1 - found.left_out) * (1 + kRounding)) << "seed " << seed;
  }
}

TEST(Bound, NoNumberOfSmallSetsIsFurtherOffThanLeftOut) {
  std::size_t off = 0;
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    Random random(seed + 10'000'000);
    referee::Shape shape;
    shape.most_faults = 6;
    shape.small_priors = random.chance(.5);
    const referee::Case given = referee::random_case(random, shape);
    const Posterior expected = referee::enumerate(given.network, given.slices);
    for (std::size_t most_present = 1; most_present <= 2; ++most_present) {
      const Posterior found = belief::by_subsets(given.network, given.slices, most_present);
      expect_bounded(expected, found, seed);
      if (HasFatalFailure()) return;
      if (largest_error(expected, found) > 1e-3) ++off;
    }
  }
  EXPECT_GT(off, 1000U);  // there was something to bound
}

TEST(Bound, TheExactEvidenceOfTheFirstReportsTightensIt) {
  std::size_t tighter = 0;
  for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
    Random random(seed + 30'000'000);
    referee::Shape shape;
    shape.most_faults = 6;
    const referee::Case given = referee::random_case(random, shape);
    const Posterior expected = referee::enumerate(given.network, given.slices);
    belief::SetBelief loose(given.network, 1, 0);
    belief::SetBelief tight(given.network, 1, 0);
    const std::size_t half = given.slices.size() / 2;
    for (std::size_t index = 0; index < given.slices.size(); ++index) {
      loose.apply(given.slices[index]);
      tight.apply(given.slices[index]);
      if (index == half) {
        const std::vector<belief::Slice> first(given.slices.begin(),
                                               given.slices.begin() + static_cast<long>(half) + 1);
        const Posterior so_far = referee::enumerate(given.network, first);
        if (std::isfinite(so_far.log_evidence)) tight.all_sets_have(so_far.log_evidence);
      }
    }
    if (!std::isfinite(expected.log_evidence)) continue;
    const Posterior found = tight.posterior();
    ASSERT_LE(found.left_out, loose.posterior().left_out + kRounding) << "seed " << seed;
    if (std::isfinite(found.log_evidence)) expect_bounded(expected, found, seed);
    if (HasFatalFailure()) return;
    if (found.left_out < 0.9 * loose.posterior().left_out) ++tighter;
  }
  EXPECT_GT(tighter, 250U);  // of 1,000: the cases do tell the two apart
}

TEST(Bound, HoldsForPrunedSets) {
  std::size_t pruned = 0;
  for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
    Random random(seed + 20'000'000);
    referee::Shape shape;
    shape.most_faults = 6;
    const referee::Case given = referee::random_case(random, shape);
    const Posterior expected = referee::enumerate(given.network, given.slices);
    for (const double prune : {1e-4, 1e-2, .2}) {
      const Posterior found = belief::by_subsets(given.network, given.slices, 6, prune);
      expect_bounded(expected, found, seed);
      if (HasFatalFailure()) return;
      if (found.left_out > 0) ++pruned;
    }
  }
  EXPECT_GT(pruned, 1000U);
}

TEST(Bound, HoldsForABeliefThatIsThinned) {
  std::size_t thinned = 0;
  for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
    Random random(seed + 40'000'000);
    referee::Shape shape;
    shape.most_faults = 6;
    const referee::Case given = referee::random_case(random, shape);
    const Posterior expected = referee::enumerate(given.network, given.slices);
    belief::SetBelief whole(given.network, 6, 0);
    for (const belief::Slice& slice : given.slices) whole.apply(slice);
    ASSERT_LE(largest_error(whole.posterior(), whole.thinned(0).posterior()), kRounding);
    if (!std::isfinite(expected.log_evidence)) continue;
    const belief::SetBelief thin = whole.thinned(.05);
    expect_bounded(expected, thin.posterior(), seed);
    if (HasFatalFailure()) return;
    if (thin.sets() < whole.sets()) ++thinned;
  }
  EXPECT_GT(thinned, 500U);
}

// Eight faults that are each present with 1 %, one complaint and five hearings that mostly go well:
// how large the bound is, and that it is not just large.
TEST(Bound, IsSmallForSmallPriors) {
  belief::Network network;
  network.prior.assign(8, {.99, .005, .005});
  network.at_most = {std::vector<std::vector<double>>(8, {.1, .6, 1})};
  belief::StateMatrix stirred = belief::kIdentity;
  stirred[belief::kQuiet] = {0, .8, .2};
  stirred[belief::kShowing] = {0, .2, .8};
  std::vector<belief::Slice> slices;
  for (std::uint32_t hearing = 0; hearing < 6; ++hearing) {
    belief::Slice slice;
    for (std::uint32_t fault = 0; fault < 8; ++fault) {
      slice.transitions.push_back({fault, stirred});
      if (hearing == 0 || fault % 4 == hearing % 4) slice.hearing.path.push_back(fault);
    }
    slice.hearing.leak_at_most = {.99, 1, 1};
    // The complaint is true; after it nothing is found.
    if (hearing == 0) {
      slice.hearing.chance_of_report = {.02, .9, .9};
    } else {
      slice.hearing.chance_of_report = {.98, .1, .02};
    }
    slices.push_back(slice);
  }
  const Posterior exact = referee::enumerate(network, slices);
  const std::vector<double> at_most = {.1, .002, .00003};  // by most_present - 1
  for (std::size_t most_present = 1; most_present <= 3; ++most_present) {
    const Posterior found = belief::by_subsets(network, slices, most_present);
    const double error = largest_error(exact, found);
    EXPECT_LT(found.left_out, at_most[most_present - 1]);
    EXPECT_LE(error, found.left_out);
    EXPECT_GT(error, found.left_out / 50);
  }
}

TEST(Bound, NothingIsLeftOutWhereAllSetsAreKept) {
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    Random random(seed);
    const referee::Case given = referee::random_case(random, referee::Shape{});
    EXPECT_EQ(belief::by_subsets(given.network, given.slices, given.network.faults()).left_out, 0);
  }
}

// The first hearing can only be the one fault, the second only the other.
TEST(Bound, IsOneWhereOnlyALargerSetExplainsTheReports) {
  belief::Network network;
  network.prior.assign(2, {.9, 0, .1});
  network.at_most = {{{0, 1, 1}, {0, 0, 1}}};
  belief::Slice slice;
  slice.hearing = {{0, 1}, 0, {1, 1, 1}, {0, 1, 0}};
  std::vector<belief::Slice> slices{slice};
  slices.push_back({{}, {{1}, 0, {1, 1, 1}, {0, 0, 1}}});
  slices[0].hearing.path = {0};
  EXPECT_NEAR(std::exp(referee::enumerate(network, slices).log_evidence), .01, 1e-15);
  const Posterior singles = belief::by_subsets(network, slices, 1);
  EXPECT_TRUE(std::isinf(singles.log_evidence));
  EXPECT_EQ(singles.left_out, 1);
  EXPECT_NEAR(std::exp(belief::by_subsets(network, slices, 2).log_evidence), .01, 1e-15);
}

TEST(Bound, IsOneWhereMoreFaultsAreCertainThanASetHolds) {
  belief::Network network;
  network.prior.assign(3, {0, .5, .5});
  network.at_most = {std::vector<std::vector<double>>(3, {.1, 1})};
  belief::SetBelief belief(network, 2, 0);
  belief.apply({{}, {{0, 1, 2}, 0, {1, 1}, {1, 0}}});
  EXPECT_EQ(belief.posterior().left_out, 1);
  belief.apply({{{0, {{{1, 0, 0}, {1, 0, 0}, {1, 0, 0}}}}}, {{0, 1, 2}, 0, {1, 1}, {1, 0}}});
  EXPECT_EQ(belief.posterior().left_out, 1);
  for (const auto& marginal : belief.posterior().marginal) {
    EXPECT_EQ(marginal, (belief::StateVector{1, 0, 0}));  // the empty set: still a belief
  }
}

}  // namespace
}  // namespace whichlink
