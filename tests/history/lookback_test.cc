#include "history/lookback.h"

#include <gtest/gtest.h>

#include <cmath>

#include "guide/support.h"
#include "history/found_by_check.h"
#include "history/learned.h"

namespace whichlink::history {
namespace {

using testing::shipped;

const std::string kCord = "headset cord.cord.left: broken conductor";

/// The booth with another rate for the cord, looked back on from 2026-01-31 (a window of 30 days
/// from 2026-01-01, and the day itself).
class LookBacks : public ::testing::Test {
 protected:
  explicit LookBacks(double per_year = 1e-6) : booth_(shipped("two-room-booth")) {
    for (const ModeId mode : booth_.rules.modes.ids()) {
      booth_.rules.modes[mode].rate.mid_per_year = per_year;
    }
    setting_ = std::make_unique<moves::Setting>(booth_, 0);
    found_.start = "2026-01-01T08:00:00";
    found_.found = "2026-01-31T00:00:00";  // to the minute: no end of the day is added
    found_.route = "left phone";
    found_.causes = {{"", kCord, "a broken cord", 1}};
  }

  void add_session(const std::string& day, const std::vector<std::string>& routes) {
    found_.sessions.push_back({"S" + std::to_string(found_.sessions.size() + 1), day, routes});
  }
  [[nodiscard]] LookBack look(double chance_found, const std::vector<record::RouteCheck>& checks) {
    return look_back(
        *setting_, found_, [=](FaultId, RouteId, const std::string&, bool) { return chance_found; },
        [&](const std::string& route) {
          return route == "left phone" ? checks : std::vector<record::RouteCheck>();
        });
  }
  [[nodiscard]] static double chance_of(const LookBack& back, const std::string& day) {
    for (const DoubtfulSession& one : back.sessions) {
      if (one.session.day == day) return one.chance;
    }
    return -1;
  }

  moves::Installation booth_;
  std::unique_ptr<moves::Setting> setting_;
  Found found_;
};

class LookBacksAtARate : public LookBacks {
 protected:
  // .02 a day, as in the published formula's example.
  LookBacksAtARate() : LookBacks(.02 * 365.25) {}
};

// Constant hazard, censored to an interval: (1 - e^(-rate d)) / (1 - e^(-rate n)) (the mean form of
// it: demography R package manual, constant force of mortality, seen; S. Preston, P. Heuveline & M.
// Guillot, Demography, 2001, from memory). A session counts at noon.
TEST_F(LookBacksAtARate, ConstantHazardGivesThePublishedForm) {
  for (const int day : {5, 10, 15, 20, 25}) {
    const std::string text = "2026-01-" + std::string(day < 9 ? "0" : "") + std::to_string(day + 1);
    add_session(text, {"left phone"});
  }
  const LookBack back = look(0, {});
  for (const int day : {5, 10, 15, 20, 25}) {
    const std::string text = "2026-01-" + std::string(day < 9 ? "0" : "") + std::to_string(day + 1);
    const double expected = (1 - std::exp(-.02 * (day + .5))) / (1 - std::exp(-.02 * 30));
    EXPECT_NEAR(chance_of(back, text), expected, 1e-12) << day;
  }
  // 10 days into 30 at .02 a day: the same published example, .401760, lies half a day before.
  EXPECT_GT(chance_of(back, "2026-01-11"), .401760);
}

TEST_F(LookBacks, WithoutARateEveryDayIsAlike) {
  add_session("2026-01-11", {"left phone"});
  EXPECT_NEAR(chance_of(look(0, {}), "2026-01-11"), 10.5 / 30, 1e-6);
}

// A pass on day 20 that misses it one time in four: before it, a quarter of the weight is left.
TEST_F(LookBacks, PassThatMightHaveMissedItClearsLess) {
  add_session("2026-01-11", {"left phone"});
  const std::vector<record::RouteCheck> pass = {{"2026-01-21T00:00:00", "passed", "", true}};
  const double sure = chance_of(look(1, pass), "2026-01-11");
  const double likely = chance_of(look(.75, pass), "2026-01-11");
  const double none = chance_of(look(0, pass), "2026-01-11");
  EXPECT_NEAR(sure, 0, 1e-12);
  EXPECT_NEAR(likely, .25 * 10.5 / (.25 * 20 + 10), 1e-6);
  EXPECT_NEAR(none, 10.5 / 30, 1e-6);
}

TEST_F(LookBacks, FailedCheckAndOtherRoutesPassesClearNothing) {
  add_session("2026-01-11", {"left phone"});
  const std::vector<record::RouteCheck> failed = {{"2026-01-21T00:00:00", "failed", "", true}};
  EXPECT_NEAR(chance_of(look(1, failed), "2026-01-11"), 10.5 / 30, 1e-6);
}

TEST_F(LookBacks, SessionWithoutTheRouteIsNotInDoubt) {
  add_session("2026-01-30", {"right phone", "bone"});
  add_session("2026-01-29", {"left phone"});
  const LookBack back = look(0, {});
  EXPECT_EQ(chance_of(back, "2026-01-30"), 0);
  EXPECT_EQ(back.sessions.front().session.day, "2026-01-29") << "worst first";
  EXPECT_NEAR(back.expected_spoilt, chance_of(back, "2026-01-29"), 1e-15);
}

TEST_F(LookBacks, SharesOfTheCauseCount) {
  add_session("2026-01-30", {"left phone"});
  const double whole = chance_of(look(0, {}), "2026-01-30");
  found_.causes = {{"", kCord, "", .4}, {"", "crossed plugs", "", .6}};
  const LookBack part = look(0, {});
  EXPECT_NEAR(chance_of(part, "2026-01-30"), .4 * whole, 1e-12);
  EXPECT_EQ(part.not_traced, .6);
}

TEST_F(LookBacks, PassThatWasToldCountsLikeOneOnRecord) {
  add_session("2026-01-11", {"left phone"});
  found_.said_pass = 20474;  // 2026-01-21, `date -ud 2026-01-21 +%s` / 86400
  EXPECT_NEAR(chance_of(look(.75, {}), "2026-01-11"), .25 * 10.5 / (.25 * 20 + 10), 1e-6);
}

// What a real check would have found: a broken conductor nearly surely, a fractured one less, and
// less still untouched.
TEST(FoundByCheck, KnowsWhatAStressBringsOut) {
  const moves::Installation booth = shipped("two-room-booth");
  const moves::Setting setting(booth, 0);
  const ChanceFound found = found_by_check(setting);
  const auto chance = [&](const std::string& name, bool stressed) {
    for (const FaultId fault : setting.faults().ids()) {
      if (setting.name_of(fault) == name) return found(fault, RouteId{0}, "practised", stressed);
    }
    throw std::runtime_error("no fault " + name);
  };
  const std::string fractured = "headset cord.cord.left: fractured conductor";
  EXPECT_GT(chance(kCord, true), .97);
  EXPECT_GT(chance(fractured, true), chance(fractured, false) + .2);
  EXPECT_LT(chance(fractured, true), chance(kCord, true) + 1e-9);
  // A fault of another route is found by no check of this one, however often it is blamed.
  const std::string spare = "spare headset cord.cord.left: broken conductor";
  EXPECT_NEAR(chance(spare, true), 0, 1e-12);
}

// The likelihood of a pass, both ways: with the false alarms taken out, a fault that never shows
// is never found.
TEST(FoundByCheck, FalseAlarmsFindNothing) {
  moves::Installation booth = shipped("two-room-booth");
  for (const ModeId mode : booth.rules.modes.ids()) {
    booth.rules.modes[mode].chance_shows = 0;
    booth.rules.modes[mode].provoked_by.clear();
  }
  const moves::Setting setting(booth, 0);
  const ChanceFound found = found_by_check(setting);
  for (const FaultId fault : setting.faults().ids()) {
    if (setting.name_of(fault) == kCord) {
      EXPECT_NEAR(found(fault, RouteId{0}, "practised", true), 0, 1e-9);
      return;
    }
  }
  FAIL() << "no such fault";
}

}  // namespace
}  // namespace whichlink::history
