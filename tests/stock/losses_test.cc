#include "stock/losses.h"

#include "support.h"

namespace whichlink::stock {
namespace {

SignalId signal_of(const faults::Rules& rules, const std::string& name) {
  for (const SignalId id : rules.signals.ids()) {
    if (rules.signals[id].name == name) return id;
  }
  throw std::runtime_error("no signal " + name);
}
PartKindId kind_of(const faults::Rules& rules, const std::string& name) {
  for (const PartKindId id : rules.part_kinds.ids()) {
    if (rules.part_kinds[id].name == name) return id;
  }
  throw std::runtime_error("no kind " + name);
}

// Ten sessions a day. By hand from the shares that the rules judge: phones .9, inserts .3, bone .5.
TEST(Losses, WhatElseWorksIsReckonedWith) {
  const moves::Installation booth = shipped("two-room-booth");
  const moves::Setting setting(booth, 0);
  const SignalId phones = signal_of(booth.rules, "phones");
  const SignalId inserts = signal_of(booth.rules, "inserts");
  EXPECT_NEAR(sessions_lost_per_day(setting, {phones}), 10 * .9 * (1 - .8), 1e-12);
  EXPECT_NEAR(sessions_lost_per_day(setting, {inserts}), 10 * .3 * (1 - .9), 1e-12);
  // Neither stands in for the other when both are out.
  EXPECT_NEAR(sessions_lost_per_day(setting, {phones, inserts}), 10 * (1 - (1 - .9) * (1 - .3)),
              1e-12);
  EXPECT_EQ(sessions_lost_per_day(setting, std::vector<SignalId>{}), 0);
}

TEST(Losses, NoOtherSignalStandsInWhereThereIsNone) {
  const moves::Installation room = shipped("single-room");
  const moves::Setting setting(room, 0);
  EXPECT_NEAR(sessions_lost_per_day(setting, kind_of(room.rules, "headset cord")), 9, 1e-12);
  EXPECT_NEAR(sessions_lost_per_day(setting, kind_of(room.rules, "bone cord")), 5, 1e-12);
  EXPECT_NEAR(sessions_lost_per_day(setting, kind_of(room.rules, "response button")), 10 * .2,
              1e-12);
}

// Patch cords of the booth are alike: the one of the route that is missed least goes where it is
// wanted. That is an insert's: ten sessions, .3 of them, .9 of those go on by phones.
TEST(Losses, TheLeastMissedOfAKindIsWhatIsMissing) {
  const moves::Installation booth = shipped("two-room-booth");
  const moves::Setting setting(booth, 0);
  EXPECT_NEAR(sessions_lost_per_day(setting, kind_of(booth.rules, "patch cord")), .3, 1e-12);
}

}  // namespace
}  // namespace whichlink::stock
