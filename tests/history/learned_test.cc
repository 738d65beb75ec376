#include "history/learned.h"

#include <gtest/gtest.h>

#include <cmath>

#include "guide/support.h"
#include "history/closing.h"

namespace whichlink::history {
namespace {

using testing::shipped;

const LearnedRate& named(const std::vector<LearnedRate>& rates, const std::string& name) {
  for (const LearnedRate& one : rates) {
    if (one.name == name) return one;
  }
  throw std::runtime_error("no rate " + name);
}

// Counted by hand in models/two-room-booth.yaml: nine patch cords of two plugs, two headset cord
// plugs, two insert cord plugs, one each of the bone cord, the button and the two microphones.
TEST(Learned, CountsItemsButNoSpares) {
  const auto rates = learned_rates(shipped("two-room-booth"), {}, 1);
  EXPECT_EQ(named(rates, "phone plug: tarnished plug").items, 26U);
  EXPECT_EQ(named(rates, "panel wire: bad joint").items, 7U);
  EXPECT_EQ(named(rates, "supra-aural earphone: level off").items, 2U);
  EXPECT_EQ(named(rates, kNotListed).items, 10U) << "one a route";
}

// Gamma-Poisson: both counts are added (A. Gelman et al., Bayesian Data Analysis, 3rd ed., 2.6).
TEST(Learned, AddsFaultsAndItemYears) {
  const moves::Installation booth = shipped("two-room-booth");
  const auto rates = learned_rates(booth, {{"phone plug: tarnished plug", 3.25, 5}}, 2);
  const LearnedRate& one = named(rates, "phone plug: tarnished plug");
  EXPECT_EQ(one.faults, 3.25);
  EXPECT_EQ(one.cases, 5U);
  EXPECT_EQ(one.item_years, 52);
  EXPECT_DOUBLE_EQ(one.after.shape, one.before.shape + 3.25);
  EXPECT_DOUBLE_EQ(one.after.exposure, one.before.exposure + 52);
  const LearnedRate& other = named(rates, "phone plug: not home");
  EXPECT_EQ(other.faults, 0);
  EXPECT_LT(other.after.mean(), other.before.mean()) << "two years without one";
}

TEST(Learned, PriorMedianIsTheJudgedMiddle) {
  for (const LearnedRate& one : learned_rates(shipped("two-room-booth"), {}, 0)) {
    EXPECT_NEAR(one.before.median() / one.prior.mid_per_year, 1, 1e-9) << one.name;
    EXPECT_NEAR(one.before.quantile(.95) / one.before.quantile(.05),
                one.prior.high_per_year / one.prior.low_per_year,
                1e-6 * one.prior.high_per_year / one.prior.low_per_year)
        << one.name;
  }
}

TEST(Learned, NothingOnRecordChangesNothing) {
  const moves::Installation booth = shipped("two-room-booth");
  const moves::Installation same = with_learned(booth, learned_rates(booth, {}, 0));
  for (const ModeId mode : booth.rules.modes.ids()) {
    EXPECT_EQ(same.rules.modes[mode].rate.mid_per_year, booth.rules.modes[mode].rate.mid_per_year);
    EXPECT_EQ(same.rules.modes[mode].rate.source, booth.rules.modes[mode].rate.source);
  }
}

TEST(Learned, EveryCommandSeesThePosteriorMedian) {
  const moves::Installation booth = shipped("two-room-booth");
  const auto rates = learned_rates(
      booth, {{"phone plug: tarnished plug", 40, 60}, {kCrossed, 3, 3}, {kNotListed, 2, 9}}, 1);
  const moves::Installation learned = with_learned(booth, rates);
  const LearnedRate& plug = named(rates, "phone plug: tarnished plug");
  EXPECT_DOUBLE_EQ(learned.rules.modes[*plug.mode].rate.mid_per_year, plug.after.median());
  EXPECT_GT(plug.after.median(), .5) << "40 in 26 item-years; .04 was judged";
  EXPECT_DOUBLE_EQ(learned.rules.crossing->rate.mid_per_year,
                   named(rates, kCrossed).after.median());
  EXPECT_DOUBLE_EQ(learned.rules.unlisted.rate.mid_per_year,
                   named(rates, kNotListed).after.median());
}

// A case with several suspects counts by their shares, so a hand-over is not one certain fault.
TEST(Learned, HandedOverCaseCountsByItsShares) {
  const moves::Installation booth = shipped("two-room-booth");
  guide::CaseFile events;
  events.route = "left phone";
  events.complaint.heard = "silent";
  const auto one = guide::Case::open(booth, events).value();
  const record::CaseEnd end = closing_of(*one, one->ending(guide::Stage::handed_over));
  EXPECT_EQ(end.ending, "handed over");
  double sum = 0;
  double largest = 0;
  for (const record::Cause& cause : end.causes) {
    EXPECT_GE(cause.chance, kWorthRecording);
    EXPECT_LE(cause.chance, 1);
    sum += cause.chance;
    largest = std::max(largest, cause.chance);
  }
  EXPECT_LT(largest, .9);
  EXPECT_GT(end.causes.size(), 5U);
  // One fault explains it; a few more were there anyway.
  EXPECT_GT(sum, .95);
  EXPECT_LT(sum, 1.3);
  // The same shares by the other way: the exact posterior of the case before anything was done.
  const plan::Picture picture = one->picture();
  for (const record::Cause& cause : end.causes) {
    for (const guide::Suspect& suspect : one->suspects(picture)) {
      if (suspect.name == cause.fault && suspect.fault) {
        EXPECT_NEAR(suspect.chance, cause.chance, 2e-3) << cause.fault;
      }
    }
  }
}

}  // namespace
}  // namespace whichlink::history
