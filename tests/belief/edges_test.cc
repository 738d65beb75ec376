// The corners: unlikely and impossible evidence, very few and very many faults, and how each engine
// says that it gives up.

#include <gtest/gtest.h>

#include <cmath>

#include "belief/belief.h"
#include "belief/enumeration.h"
#include "belief/joint.h"
#include "belief/possible.h"
#include "belief/random_case.h"
#include "belief/set_belief.h"
#include "belief/two_doubles.h"

namespace whichlink {
namespace {

using belief::Network;
using belief::Posterior;
using belief::Slice;
using belief::StateMatrix;

constexpr double kSameNumber = 1e-12;

/// Faults that are all alike, on one sense of two severities.
Network alike(std::size_t faults, belief::StateVector prior, double silent) {
  Network network;
  network.prior.assign(faults, prior);
  network.at_most = {std::vector<std::vector<double>>(faults, {silent, 1})};
  return network;
}

Slice heard(std::vector<std::uint32_t> path, std::vector<double> chance_of_report) {
  return {{}, {std::move(path), 0, {1, 1}, std::move(chance_of_report)}};
}

TEST(Then, IsTheProductInTimeOrder) {
  const StateMatrix first = {{{.5, .25, .25}, {0, 1, 0}, {0, .5, .5}}};
  const StateMatrix second = {{{1, 0, 0}, {.5, 0, .5}, {0, 1, 0}}};
  const StateMatrix expected = {{{.625, .25, .125}, {.5, 0, .5}, {.25, .5, .25}}};
  EXPECT_EQ(belief::then(first, second), expected);
  EXPECT_EQ(belief::then(first, belief::kIdentity), first);
  const belief::StateVector start = {.2, .3, .5};
  const auto at_once = belief::moved(start, belief::then(first, second));
  const auto one_by_one = belief::moved(belief::moved(start, first), second);
  for (std::size_t state = 0; state < 3; ++state) {
    EXPECT_NEAR(at_once[state], one_by_one[state], 1e-15);
  }
}

TEST(Belief, ReplacementForgetsTheFault) {
  const Network network = alike(2, {.7, .1, .2}, .2);
  const StateMatrix replaced = {{{.99, .004, .006}, {.99, .004, .006}, {.99, .004, .006}}};
  Slice replacing = heard({0, 1}, {1, 1});
  replacing.transitions = {{0, replaced}};
  const std::vector<Slice> slices{heard({0, 1}, {0, 1}), replacing};
  for (const Posterior& posterior :
       {belief::by_thresholds(network, slices).posterior, belief::by_subsets(network, slices, 2),
        belief::by_joint(network, slices, belief::joint_shape(network, slices))}) {
    EXPECT_NEAR(posterior.marginal[0][belief::kShowing], .006, kSameNumber);
    EXPECT_GT(posterior.marginal[1][belief::kShowing], .2);
  }
}

TEST(Evidence, OfFourteenHearingsAndTenToTheMinusThirtyIsExact) {
  Random random(7);
  Network network = alike(6, {.97, .01, .02}, 0);
  for (auto& row : network.at_most[0]) row[0] = .2 * random.uniform();
  std::vector<Slice> slices;
  for (std::uint32_t hearing = 0; hearing < 14; ++hearing) {
    Slice slice = heard({hearing % 6, 6}, {.001, .01});
    slice.hearing.path = hearing % 6 == 5 ? std::vector<std::uint32_t>{0, 5}
                                          : std::vector<std::uint32_t>{hearing % 6, 5};
    slice.hearing.chance_of_report = {.0004 + .001 * random.uniform(), .01 * random.uniform()};
    for (std::uint32_t fault = 0; fault < 6; ++fault) {
      slice.transitions.push_back({fault, {{{1, 0, 0}, {0, .6, .4}, {0, .3, .7}}}});
    }
    slices.push_back(slice);
  }
  const Posterior expected = referee::enumerate(network, slices);
  EXPECT_LT(expected.log_evidence, -30 * std::log(10.0));
  const auto thresholds = belief::by_thresholds(network, slices, 1U << 14U);
  ASSERT_TRUE(thresholds.fits);
  EXPECT_EQ(thresholds.terms, 1U << 14U);
  const Posterior subsets = belief::by_subsets(network, slices, 6);
  for (const Posterior* found : {&thresholds.posterior, &subsets}) {
    EXPECT_NEAR(found->log_evidence, expected.log_evidence, kSameNumber);
    for (std::size_t fault = 0; fault < 6; ++fault) {
      for (std::size_t state = 0; state < 3; ++state) {
        EXPECT_NEAR(found->marginal[fault][state], expected.marginal[fault][state], kSameNumber);
      }
    }
  }
}

// Each hearing says "somebody shows" of faults that hardly ever do: the sum cancels down to the
// product of the priors, sixteen digits below the terms.
TEST(Evidence, ThatCancelsMoreDigitsThanDoubleHasIsExactAndSaysSo) {
  const Network network = alike(5, {.9996, .0002, .0002}, .1);
  std::vector<Slice> slices;
  for (std::uint32_t fault = 0; fault < 4; ++fault) slices.push_back(heard({fault}, {0, 1}));
  const auto thresholds = belief::by_thresholds(network, slices);
  ASSERT_TRUE(thresholds.fits);
  EXPECT_GT(thresholds.posterior.digits_lost, 15);
  EXPECT_NEAR(thresholds.posterior.log_evidence, 4 * std::log(.0002 * .9), kSameNumber);
  EXPECT_NEAR(thresholds.posterior.marginal[0][belief::kShowing], 1, kSameNumber);
  EXPECT_NEAR(thresholds.posterior.marginal[4][belief::kShowing], .0002, kSameNumber);
}

TEST(Evidence, ThatCancelsEvenDoubleDoubleDoesNotFit) {
  const Network network = alike(5, {1 - 1e-6, 0, 1e-6}, .1);
  std::vector<Slice> slices;
  for (std::uint32_t fault = 0; fault < 4; ++fault) slices.push_back(heard({fault}, {0, 1}));
  EXPECT_FALSE(belief::by_thresholds(network, slices).fits);
  EXPECT_NEAR(belief::by_subsets(network, slices, 4).log_evidence, 4 * std::log(.9e-6),
              kSameNumber);
}

TEST(Evidence, DigitsLostAreZeroWhereNothingCancels) {
  const Network network = alike(3, {.9, .05, .05}, .1);
  const auto result = belief::by_thresholds(network, std::vector{heard({0, 1, 2}, {1, 0})});
  EXPECT_EQ(result.terms, 1U);
  EXPECT_NEAR(result.posterior.digits_lost, 0, 1e-15);
}

TEST(Evidence, ImpossibleForOneFaultIsMinusInfinityEverywhere) {
  const Network network = alike(3, {.9, .1, 0}, .1);  // no fault ever shows
  const std::vector<Slice> slices{heard({0, 1, 2}, {0, 1})};
  const auto thresholds = belief::by_thresholds(network, slices);
  ASSERT_TRUE(thresholds.fits);
  for (const Posterior& posterior : {thresholds.posterior, belief::by_subsets(network, slices, 3),
                                     belief::best_posterior(network, slices).posterior}) {
    EXPECT_EQ(posterior.log_evidence, -std::numeric_limits<double>::infinity());
    EXPECT_EQ(posterior.marginal, network.prior);
    EXPECT_NEAR(posterior.none_present, .729, kSameNumber);
    EXPECT_EQ(posterior.left_out, 0);
  }
}

TEST(Evidence, ImpossibleReportLeavesTheBeliefAsItWasAfterTheMove) {
  const Network network = alike(2, {.8, .1, .1}, 0);
  belief::SetBelief belief(network, 2, 0);
  belief.apply(heard({0, 1}, {1, .5}));
  belief::SetBelief only_moved = belief;
  Slice moving = heard({0}, {0, 0});
  moving.transitions = {{0, {{{1, 0, 0}, {.5, .3, .2}, {.5, .3, .2}}}}};
  belief.apply(moving);
  moving.hearing.chance_of_report = {1, 1};
  only_moved.apply(moving);
  const Posterior found = belief.posterior();
  EXPECT_TRUE(std::isinf(found.log_evidence));
  for (std::size_t fault = 0; fault < 2; ++fault) {
    for (std::size_t state = 0; state < 3; ++state) {
      EXPECT_NEAR(found.marginal[fault][state], only_moved.posterior().marginal[fault][state],
                  kSameNumber);
    }
  }
  belief.apply(heard({0}, {1, 1}));  // and never comes back from it
  EXPECT_TRUE(std::isinf(belief.posterior().log_evidence));
}

TEST(Faults, OneAlone) {
  const Network network = alike(1, {.5, .3, .2}, .25);
  const std::vector<Slice> slices{heard({0}, {.9, .2})};
  const double evidence = .8 * .9 + .2 * (.25 * .9 + .75 * .2);
  for (const Posterior& posterior :
       {belief::by_thresholds(network, slices).posterior, belief::by_subsets(network, slices, 1)}) {
    EXPECT_NEAR(posterior.log_evidence, std::log(evidence), kSameNumber);
    EXPECT_NEAR(posterior.marginal[0][belief::kAbsent], .5 * .9 / evidence, kSameNumber);
    EXPECT_NEAR(posterior.none_present, .5 * .9 / evidence, kSameNumber);
  }
}

TEST(Faults, NoneOnThePathLeavesThePrior) {
  const Network network = alike(3, {.5, .3, .2}, .25);
  const std::vector<Slice> slices{heard({}, {.25, .5})};
  for (const Posterior& posterior :
       {belief::by_thresholds(network, slices).posterior, belief::by_subsets(network, slices, 1),
        belief::best_posterior(network, slices).posterior}) {
    EXPECT_NEAR(posterior.log_evidence, std::log(.25), kSameNumber);
    EXPECT_EQ(posterior.marginal, network.prior);
    EXPECT_NEAR(posterior.none_present, .125, kSameNumber);
  }
}

TEST(Faults, NoHearingAtAllLeavesThePrior) {
  const Network network = alike(3, {.5, .3, .2}, .25);
  const std::vector<Slice> none;
  EXPECT_EQ(belief::best_posterior(network, none).posterior.marginal, network.prior);
  EXPECT_EQ(belief::by_thresholds(network, none).posterior.marginal, network.prior);
  EXPECT_EQ(belief::by_thresholds(network, none).posterior.log_evidence, 0);
}

// All of 2,000 alike faults heard once: a closed form for everything.
TEST(Faults, TwoThousandHeardAtOnce) {
  const std::size_t faults = 2000;
  const double shows = .0005;
  const Network network = alike(faults, {.999, .0005, shows}, .2);
  Slice slice;
  for (std::uint32_t fault = 0; fault < faults; ++fault) slice.hearing.path.push_back(fault);
  slice.hearing.leak_at_most = {1, 1};
  slice.hearing.chance_of_report = {.1, .9};
  const std::vector<Slice> slices{slice};
  const double silent = std::exp(faults * std::log1p(-.8 * shows));
  const double evidence = .9 - .8 * silent;
  const double one_shows = shows * (.9 - .8 * .2 * silent / (1 - .8 * shows)) / evidence;

  const auto choice = belief::best_posterior(network, slices);
  EXPECT_EQ(choice.method, belief::Method::thresholds);
  EXPECT_NEAR(choice.posterior.log_evidence, std::log(evidence), kSameNumber);
  EXPECT_NEAR(choice.posterior.marginal[1999][belief::kShowing], one_shows, kSameNumber);

  const Posterior singles = belief::by_subsets(network, slices, 1);
  EXPECT_GT(singles.left_out, .5);  // two thousand times .001: several at once are likely
  EXPECT_LT(singles.left_out, 1);
  EXPECT_LE(std::abs(singles.marginal[7][belief::kShowing] - one_shows), singles.left_out);
}

TEST(Faults, HundredHearingsOfOneDoNotUnderflow) {
  const Network network = alike(2, {.5, .2, .3}, 1e-5);
  std::vector<Slice> slices(100, heard({0}, {1, 0}));
  slices.push_back(heard({0, 1}, {.5, .25}));
  const auto thresholds = belief::by_thresholds(network, slices);
  ASSERT_TRUE(thresholds.fits);
  const Posterior subsets = belief::by_subsets(network, slices, 2);
  EXPECT_NEAR(thresholds.posterior.log_evidence, subsets.log_evidence, kSameNumber);
  const Posterior joint = belief::by_joint(network, slices, belief::joint_shape(network, slices));
  EXPECT_NEAR(joint.log_evidence, subsets.log_evidence, kSameNumber);
  EXPECT_NEAR(joint.marginal[0][belief::kAbsent], .5 / .7, kSameNumber);
  EXPECT_NEAR(thresholds.posterior.marginal[0][belief::kAbsent], .5 / .7, kSameNumber);
}

TEST(Faults, HundredUnlikelyHearingsOfACertainOneDoNotUnderflow) {
  Network network = alike(2, {.5, .2, .3}, 1e-5);
  network.prior[0] = {0, 0, 1};
  const std::vector<Slice> slices(100, heard({0}, {1, 0}));
  for (const Posterior& posterior :
       {belief::by_thresholds(network, slices).posterior, belief::by_subsets(network, slices, 2),
        belief::by_joint(network, slices, belief::joint_shape(network, slices))}) {
    EXPECT_NEAR(posterior.log_evidence, 100 * std::log(1e-5), 1e-10);  // of 1e-500
    EXPECT_EQ(posterior.marginal[0][belief::kShowing], 1);
    EXPECT_EQ(posterior.none_present, 0);
  }
}

TEST(Terms, NeighboursThatActAlikeAreOne) {
  Network network = alike(2, {.9, .05, .05}, 0);
  network.at_most = {{{.1, .1, .4, 1}, {.3, .3, .3, 1}}};
  const auto terms = [&](std::vector<double> leak, std::vector<double> report) {
    return belief::by_thresholds(
               network, std::vector{Slice{{}, {{0, 1}, 0, std::move(leak), std::move(report)}}})
        .terms;
  };
  EXPECT_EQ(terms({1, 1, 1, 1}, {.9, .5, .3, .1}), 3U);   // 0 and 1 act alike
  EXPECT_EQ(terms({.9, 1, 1, 1}, {.9, .5, .3, .1}), 4U);  // but not the leak
  EXPECT_EQ(terms({1, 1, 1, 1}, {.9, .5, .5, .1}), 3U);   // alike but for their weights
  EXPECT_EQ(terms({.9, 1, 1, 1}, {.5, .5, .3, .1}), 3U);  // weight 0 between 0 and 1
  EXPECT_EQ(terms({0, 0, 1, 1}, {.9, .5, .3, .1}), 2U);   // the leak is never below 2
  EXPECT_EQ(terms({1, 1, 1, 1}, {1, 1, 1, 1}), 1U);       // tells nothing
}

TEST(Terms, BelowACertainFaultDropOut) {
  Network network = alike(2, {.9, .05, .05}, .1);
  network.prior[0] = {0, 0, 1};
  network.at_most[0][0] = {0, 1};
  const auto result = belief::by_thresholds(network, std::vector{heard({0, 1}, {.9, .2})});
  ASSERT_TRUE(result.fits);
  EXPECT_EQ(result.terms, 1U);
  EXPECT_NEAR(result.posterior.log_evidence, std::log(.2), kSameNumber);
  EXPECT_NEAR(result.posterior.marginal[1][belief::kShowing], .05, kSameNumber);
}

// The first fault always sounds 1, so the report 2 can only be the second, which then shows;
// silence of the second right after is impossible. No sum is needed to see that.
TEST(Possible, SeesWhatOneReportLeavesForTheNext) {
  Network network = alike(2, {.9, .05, .05}, 0);
  network.prior[0] = {0, 0, 1};
  network.at_most = {{{0, 1, 1}, {0, 0, 1}}};
  const Slice both{{}, {{0, 1}, 0, {1, 1, 1}, {1, 0, 1}}};
  const Slice silence{{}, {{1}, 0, {1, 1, 1}, {1, 0, 0}}};
  EXPECT_TRUE(belief::may_be_possible(network, std::vector{both}));
  EXPECT_TRUE(belief::may_be_possible(network, std::vector{silence}));
  EXPECT_FALSE(belief::may_be_possible(network, std::vector{both, silence}));
}

TEST(Possible, IsNeverDeniedWhereEnumerationFindsAChance) {
  std::size_t denied = 0;
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    Random random(seed);
    const referee::Case given = referee::random_case(random, referee::Shape{});
    if (belief::may_be_possible(given.network, given.slices)) continue;
    ++denied;
    ASSERT_EQ(referee::after(given.network, given.slices).total(), 0) << "seed " << seed;
  }
  EXPECT_GT(denied, 20U);
}

TEST(Terms, TooManyDoNotFit) {
  const Network network = alike(8, {.9, .05, .05}, .1);
  const std::vector<Slice> slices(5, heard({0, 1, 2, 3, 4, 5, 6, 7}, {.9, .2}));
  EXPECT_TRUE(belief::by_thresholds(network, slices, 32).fits);
  EXPECT_FALSE(belief::by_thresholds(network, slices, 31).fits);
  EXPECT_TRUE(belief::by_thresholds(network, slices, 31).posterior.marginal.empty());
}

// Neither 2^14 terms nor a joint of 3^13 states can be afforded.
TEST(Choice, GoesToSmallSetsWhereThereAreTooManyTerms) {
  const Network network = alike(13, {.995, .002, .003}, .1);
  std::vector<std::uint32_t> path;
  for (std::uint32_t fault = 0; fault < 13; ++fault) path.push_back(fault);
  const std::vector<Slice> slices(14, heard(path, {.9, .2}));
  const auto rough = belief::best_posterior(network, slices, .1);
  EXPECT_EQ(rough.method, belief::Method::subsets);
  EXPECT_LT(rough.posterior.left_out, .1);
  const auto fine = belief::best_posterior(network, slices, 1e-4);
  EXPECT_GT(fine.most_present, rough.most_present);
  EXPECT_LT(fine.posterior.left_out, rough.posterior.left_out);
  const auto hopeless = belief::best_posterior(network, slices, 0);
  EXPECT_EQ(hopeless.most_present, 3U);
}

// Ten hearings of two thousand faults: 1,024 terms would be few, but not with so many vectors each.
TEST(Choice, GoesToSmallSetsWhereTermsTimesFaultsAreTooMany) {
  const Network network = alike(2000, {1 - 1e-5, 0, 1e-5}, .1);
  std::vector<std::uint32_t> path;
  for (std::uint32_t fault = 0; fault < 2000; ++fault) path.push_back(fault);
  const auto choice =
      belief::best_posterior(network, std::vector<Slice>(10, heard(path, {.9, .2})));
  EXPECT_EQ(choice.method, belief::Method::subsets);
  EXPECT_EQ(choice.most_present, 1U);  // sets of two would have eight million weights
}

// A route that passed today: none of its faults can be there. One joint state, but 2^40
// likelihoods.
TEST(Choice, TakesNoJointOfManyFaultsThatCannotBeThere) {
  Network network = alike(40, {1, 0, 0}, .2);
  network.prior[7] = {.5, 0, .5};
  std::vector<std::uint32_t> path;
  for (std::uint32_t fault = 0; fault < 40; ++fault) path.push_back(fault);
  const std::vector<Slice> slices(2, heard(path, {.9, .2}));
  const auto choice = belief::best_posterior(network, slices);
  const double while_it_shows = std::pow(.2 * .9 + .8 * .2, 2);
  const double evidence = .5 * .9 * .9 + .5 * while_it_shows;
  EXPECT_NEAR(choice.posterior.log_evidence, std::log(evidence), 1e-12);
  EXPECT_NEAR(choice.posterior.marginal[7][belief::kShowing], .5 * while_it_shows / evidence,
              1e-12);
  EXPECT_EQ(choice.posterior.marginal[8][belief::kAbsent], 1);
}

// One hearing with two thresholds: two terms, against 3^8 weights.
TEST(Choice, TakesTheSignedSumWhereTheJointCostsMore) {
  const Network network = alike(500, {.995, .002, .003}, .1);
  const std::vector slices{heard({1, 3, 5, 70, 71, 72, 80, 499}, {.1, .9})};
  const auto choice = belief::best_posterior(network, slices);
  EXPECT_EQ(choice.method, belief::Method::thresholds);
  const Posterior all_sets = belief::by_subsets(network, slices, 8);
  EXPECT_NEAR(choice.posterior.log_evidence, all_sets.log_evidence, 1e-12);
}

// Ten such hearings: up to 2^10 terms of 8 faults, against 10 x 3^8 weights.
TEST(Choice, TakesTheJointOfEightWhereTheSignedSumCostsMore) {
  const Network network = alike(500, {.995, .002, .003}, .1);
  const Slice one = heard({1, 3, 5, 70, 71, 72, 80, 499}, {.1, .9});
  const auto choice = belief::best_posterior(network, std::vector<Slice>(10, one));
  EXPECT_EQ(choice.method, belief::Method::joint);
  EXPECT_EQ(choice.posterior.left_out, 0);
}

TEST(Choice, TakesTheJointOfFewHeardFaults) {
  const Network network = alike(500, {.995, .002, .003}, .1);
  const auto choice = belief::best_posterior(network, std::vector{heard({3, 70, 499}, {.1, .9})});
  EXPECT_EQ(choice.method, belief::Method::joint);
  EXPECT_EQ(choice.posterior.left_out, 0);
}

// Only states that can be reached count: of the first fault all three, of the second, which is
// never quiet, two until a move makes it so, and of the third none but absent.
TEST(Shape, HoldsTheStatesThatCanBeReached) {
  Network network = alike(4, {.9, .05, .05}, .1);
  network.prior[1] = {.9, 0, .1};
  network.prior[2] = {1, 0, 0};
  Slice slice = heard({0, 1, 2}, {.1, .9});
  belief::JointShape shape = belief::joint_shape(network, std::vector{slice});
  ASSERT_EQ(shape.axes.size(), 3U);
  EXPECT_EQ(shape.weights, 3 * 2 * 1);
  EXPECT_EQ(shape.axes[1].states[1], belief::kShowing);
  slice.transitions = {{1, {{{1, 0, 0}, {0, 1, 0}, {0, .5, .5}}}}, {3, belief::kIdentity}};
  shape = belief::joint_shape(network, std::vector{slice});
  EXPECT_EQ(shape.weights, 3 * 3 * 1);
  EXPECT_EQ(shape.likelihoods, 8);
}

// One move after the other: a state that opens the way to the next.
TEST(Shape, FollowsOneMoveAfterTheOther) {
  Network network = alike(1, {1, 0, 0}, .1);
  Slice appears = heard({0}, {1, 1});
  appears.transitions = {{0, {{{.9, .1, 0}, {0, 1, 0}, {0, 0, 1}}}}};
  Slice shows = heard({0}, {1, 1});
  shows.transitions = {{0, {{{1, 0, 0}, {0, .5, .5}, {0, 0, 1}}}}};
  EXPECT_EQ(belief::joint_shape(network, std::vector{appears, shows}).weights, 3);
  EXPECT_EQ(belief::joint_shape(network, std::vector{shows, appears}).weights, 2);
}

// Some of the faults in given states, heard or not, whatever the others do.
TEST(Sets, ChancesOfGivenStatesEqualThoseOfTheJoint) {
  std::size_t above_nothing = 0;
  for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
    Random random(seed);
    const referee::Case given = referee::random_case(random, referee::Shape{});
    const referee::Joint joint = referee::after(given.network, given.slices);
    if (joint.total() == 0) continue;
    belief::SetBelief belief(given.network, given.network.faults(), 0);
    for (const Slice& slice : given.slices) belief.apply(slice);
    std::vector<std::uint32_t> faults;
    std::vector<belief::State> states;
    for (std::uint32_t fault = 0; fault < given.network.faults(); ++fault) {
      if (random.chance(.4)) continue;
      faults.push_back(fault);
      states.push_back(static_cast<belief::State>(random.below(3)));
    }
    const double expected = joint.weight_where(faults, states) / joint.total();
    ASSERT_NEAR(belief.chance_of(faults, states), expected, kSameNumber) << "seed " << seed;
    if (expected > 1e-6 && faults.size() > 1) ++above_nothing;
  }
  EXPECT_GT(above_nothing, 300U);
}

TEST(Sets, GrowOnlyByFaultsThatAreHeard) {
  const Network network = alike(60, {.99, .005, .005}, .1);
  belief::SetBelief belief(network, 2, 0);
  EXPECT_EQ(belief.sets(), 1U);
  belief.apply(heard({0, 1, 2}, {.5, .6}));
  EXPECT_EQ(belief.sets(), 1U + 3 + 3);
  std::vector<std::uint32_t> all;
  for (std::uint32_t fault = 0; fault < 60; ++fault) all.push_back(fault);
  belief.apply(heard(all, {.5, .6}));
  EXPECT_EQ(belief.sets(), 1U + 60 + 1770);
}

TEST(Sets, CopiesGoTheirOwnWay) {
  const Network network = alike(4, {.9, .05, .05}, .1);
  belief::SetBelief first(network, 2, 0);
  first.apply(heard({0, 1}, {.2, .9}));
  belief::SetBelief second = first;
  const auto before = first.posterior().marginal;
  second.apply(heard({0, 2}, {0, 1}));
  EXPECT_EQ(first.posterior().marginal, before);
  EXPECT_NE(second.posterior().marginal, before);
}

TEST(Sets, NoneOfIsTheChanceThatAllOfThemAreAbsent) {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    Random random(seed);
    const referee::Case given = referee::random_case(random, referee::Shape{});
    auto joint = referee::after(given.network, given.slices);
    if (joint.total() == 0) continue;
    belief::SetBelief belief(given.network, given.network.faults(), 0);
    for (const Slice& slice : given.slices) belief.apply(slice);
    const auto about = referee::random_mask(random, given.network.faults());
    ASSERT_NEAR(belief.none_of(about), joint.weight_of_none(about) / joint.total(), kSameNumber)
        << "seed " << seed;
  }
}

TEST(Logarithm, IsWithinTenToTheMinusFifteenOfTheLibrary) {
  Random random(3);
  const auto library = [](double x) {
    return static_cast<double>(static_cast<long double>(x) *
                               std::log2(static_cast<long double>(x)));
  };
  for (int draw = 0; draw < 200'000; ++draw) {
    const double x = random.uniform() * std::pow(2.0, -static_cast<int>(random.below(60)));
    if (x == 0) continue;
    ASSERT_NEAR(belief::times_log2(x), library(x), 1e-15) << x;
  }
  for (const double x :
       {1.0, .5, .25, 1 - 0x1p-53, .70710678118654752, .70710678118654757, 1e-300}) {
    EXPECT_NEAR(belief::times_log2(x), library(x), 1e-15) << x;
  }
  EXPECT_EQ(belief::times_log2(0.0), 0);
  EXPECT_EQ(belief::times_log2(1e-310), 0);
  const std::vector<double> four = {.5, .25, .25, 0};
  EXPECT_NEAR(belief::sum_times_log2(four.data(), four.size()), -1.5, 1e-15);
}

}  // namespace
}  // namespace whichlink
