// What a question would leave, against the joint over all states and against asking it.

#include <gtest/gtest.h>

#include <cmath>

#include "belief/enumeration.h"
#include "belief/random_case.h"
#include "belief/set_belief.h"

namespace whichlink {
namespace {

using belief::Forecast;
using belief::SetBelief;

constexpr double kSameNumber = 1e-12;
constexpr double kSameBits = 1e-11;  // a difference of entropies of a few bits

belief::Slice asked(const belief::Question& question, std::size_t outcome) {
  belief::Slice slice;
  slice.transitions = question.transitions;
  slice.hearing = {question.path, question.sense, question.leak_at_most, {}};
  for (const auto& row : question.report) slice.hearing.chance_of_report.push_back(row[outcome]);
  return slice;
}

void expect_same(const Forecast& expected, const Forecast& found, std::uint64_t seed) {
  ASSERT_EQ(expected.outcomes.size(), found.outcomes.size());
  for (std::size_t outcome = 0; outcome < expected.outcomes.size(); ++outcome) {
    const auto& right = expected.outcomes[outcome];
    const auto& shown = found.outcomes[outcome];
    ASSERT_NEAR(right.chance, shown.chance, kSameNumber) << "seed " << seed;
    ASSERT_NEAR(right.none_present, shown.none_present, kSameNumber) << "seed " << seed;
    for (std::size_t fault = 0; fault < right.present.size(); ++fault) {
      ASSERT_NEAR(right.present[fault], shown.present[fault], kSameNumber)
          << "seed " << seed << " outcome " << outcome << " fault " << fault;
    }
  }
}

TEST(Forecast, EqualsEnumerationWhereAllSetsAreKept) {
  referee::Shape shape;
  shape.most_faults = 5;
  shape.most_slices = 3;
  for (std::uint64_t seed = 1; seed <= 1500; ++seed) {
    Random random(seed);
    const referee::Case given = referee::random_case(random, shape);
    const auto joint = referee::after(given.network, given.slices);
    if (joint.total() == 0) continue;
    SetBelief belief(given.network, given.network.faults(), 0);
    for (const auto& slice : given.slices) belief.apply(slice);
    const auto question = referee::random_question(random, shape, given.network);
    const auto about = referee::random_mask(random, given.network.faults());
    const Forecast expected = referee::forecast(joint, given.network, question, about);
    const Forecast found = belief.forecast(question, about);
    expect_same(expected, found, seed);
    ASSERT_NEAR(expected.bits, found.bits, kSameBits) << "seed " << seed;
  }
}

// Without faults that appear, and with every fault heard before, nothing more is left out by
// asking.
TEST(Forecast, EqualsAskingForSmallSets) {
  referee::Shape shape;
  shape.appears = false;
  for (std::uint64_t seed = 1; seed <= 1500; ++seed) {
    Random random(seed);
    referee::Case given = referee::random_case(random, shape);
    for (std::uint32_t fault = 0; fault < given.network.faults(); ++fault) {
      auto& path = given.slices[0].hearing.path;
      if (fault == 0) path.clear();
      path.push_back(fault);
    }
    const std::size_t most_present = 1 + random.below(3);
    SetBelief belief(given.network, most_present, 0);
    for (const auto& slice : given.slices) belief.apply(slice);
    const double log_evidence = belief.posterior().log_evidence;
    if (std::isinf(log_evidence)) continue;
    const auto question = referee::random_question(random, shape, given.network);
    const auto about = referee::random_mask(random, given.network.faults());
    const Forecast found = belief.forecast(question, about);
    Forecast expected;
    for (std::size_t outcome = 0; outcome < found.outcomes.size(); ++outcome) {
      SetBelief next = belief;
      next.apply(asked(question, outcome));
      const auto posterior = next.posterior();
      belief::Outcome left;
      left.chance = std::exp(posterior.log_evidence - log_evidence);
      for (const auto& marginal : posterior.marginal) left.present.push_back(1 - marginal[0]);
      left.none_present = next.none_of(about);
      expected.outcomes.push_back(left);
    }
    expect_same(expected, found, seed);
  }
}

// Bits of small sets: the joint cut to at most so many faults present among those heard or now on
// the path. Faults may appear by the question, but not before it.
TEST(Forecast, BitsOfSmallSetsEqualThoseOfTheCutJoint) {
  referee::Shape shape;
  shape.most_faults = 5;
  shape.most_slices = 2;
  shape.appears = false;
  shape.cures = false;
  referee::Shape of_question;
  for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
    Random random(seed);
    const referee::Case given = referee::random_case(random, shape);
    const auto question = referee::random_question(random, of_question, given.network);
    const std::size_t most_present = 1 + random.below(3);
    SetBelief belief(given.network, most_present, 0);
    for (const auto& slice : given.slices) belief.apply(slice);
    auto joint = referee::after(given.network, given.slices);
    std::vector<bool> among(given.network.faults(), false);
    for (const auto& slice : given.slices) {
      for (const std::uint32_t fault : slice.hearing.path) among[fault] = true;
    }
    for (const std::uint32_t fault : question.path) among[fault] = true;
    joint.keep_at_most(most_present, among);
    if (joint.total() == 0) continue;
    const std::vector<bool> about(given.network.faults(), true);
    const double expected = referee::forecast(joint, given.network, question, about).bits;
    ASSERT_NEAR(expected, belief.forecast(question, about).bits, kSameBits) << "seed " << seed;
  }
}

TEST(Forecast, FaultsNeverHeardAreExactEvenForSingleFaults) {
  belief::Network network;
  for (std::size_t fault = 0; fault < 6; ++fault) network.prior.push_back({.7, .1, .2});
  network.at_most = {std::vector<std::vector<double>>(6, {.2, .5, 1})};
  const SetBelief belief(network, 1, 0);
  const belief::Question question{
      {}, {0, 1, 2, 3, 4, 5}, 0, {.9, 1, 1}, {{.8, .2}, {.3, .7}, {.1, .9}}};
  const std::vector<bool> about(6, true);
  expect_same(referee::forecast(referee::Joint(network), network, question, about),
              belief.forecast(question, about), 0);
}

TEST(Forecast, BitsOfTooManyNewFaultsAreOverSingles) {
  // 400 faults would make 80,201 sets of at most two. All alike, always heard when present.
  belief::Network network;
  network.prior.assign(400, {.99, 0, .01});
  network.at_most = {std::vector<std::vector<double>>(400, {0, 1})};
  belief::Question question;
  for (std::uint32_t fault = 0; fault < 200; ++fault) question.path.push_back(fault);
  question.leak_at_most = {1, 1};
  question.report = {{1, 0}, {0, 1}};
  const std::vector<bool> about(400, true);
  const auto entropy = [](double a, double b) {
    const double total = a + b;
    return -(a / total) * std::log2(a / total) - (b / total) * std::log2(b / total);
  };
  const double none = std::pow(.99, 200);
  const double one = 200 * std::pow(.99, 199) * .01;
  const double two = 200.0 * 199 / 2 * std::pow(.99, 198) * .0001;
  const Forecast of_200 = SetBelief(network, 2, 0).forecast(question, about);
  EXPECT_NEAR(of_200.bits, entropy(none, one + two), 1e-11);
  EXPECT_NEAR(of_200.outcomes[0].chance, none, 1e-12);  // exact all the same
  for (std::uint32_t fault = 200; fault < 400; ++fault) question.path.push_back(fault);
  const double none_of_400 = std::pow(.99, 400);
  const double one_of_400 = 400 * std::pow(.99, 399) * .01;
  const Forecast of_400 = SetBelief(network, 2, 0).forecast(question, about);
  EXPECT_NEAR(of_400.bits, entropy(none_of_400, one_of_400), 1e-11);
  EXPECT_NEAR(of_400.outcomes[0].chance, none_of_400, 1e-12);
}

TEST(Forecast, DoesNotChangeTheBelief) {
  Random random(5);
  const referee::Case given = referee::random_case(random, referee::Shape{});
  SetBelief belief(given.network, 2, 0);
  for (const auto& slice : given.slices) belief.apply(slice);
  const auto before = belief.posterior();
  const auto question = referee::random_question(random, referee::Shape{}, given.network);
  (void)belief.forecast(question, std::vector<bool>(given.network.faults(), true));
  EXPECT_EQ(before.marginal, belief.posterior().marginal);
  EXPECT_EQ(before.log_evidence, belief.posterior().log_evidence);
}

}  // namespace
}  // namespace whichlink
