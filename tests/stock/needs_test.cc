#include "stock/needs.h"

#include "support.h"

namespace whichlink::stock {
namespace {

TEST(Needs, ItemsTimesWhatEachTakesTimesTheRate) {
  const Asking asking(shipped("single-room"),
                      made_up({{"a", 2, "cord", .5}, {"b", 3, "cord", 1}, {"c", 4, "plug", 1}}));
  const Rates rates{{"a", {2, 4}}, {"b", {3, 10}}};
  std::vector<Room> rooms = asking.question.rooms;
  rooms.front().rooms = 5;
  const auto needs = needs_of(rooms, rates);
  const Need& cord = needs.at("cord");
  EXPECT_NEAR(cord.per_year, 5 * (2 * .5 * .5 + 3 * .3), 1e-12);
  ASSERT_EQ(cord.streams.size(), 2U);
  EXPECT_EQ(cord.streams[0].rate.shape, 2);
  EXPECT_NEAR(cord.streams[0].takes, 5, 1e-12);
  EXPECT_FALSE(needs.contains("plug")) << "nothing is believed of its rate";
}

// .3 of the sessions use inserts: 2300 a year, and a pair of tips each time or a little more. The
// single room has no inserts and wants none.
TEST(Needs, SuppliesAreUsedBySessions) {
  const Asking booth(shipped("two-room-booth"), {});
  const double tips = needs_of(booth.question.rooms, {}).at("ear tip").per_year;
  EXPECT_GT(tips, 2300 * .3 * 1.8);
  EXPECT_LT(tips, 2300 * .3 * 2.6);
  const Asking room(shipped("single-room"), {});
  EXPECT_FALSE(needs_of(room.question.rooms, {}).contains("ear tip"));
}

TEST(Needs, WhatWasSeenAnywhereTellsOfTheRateEverywhere) {
  history::LearnedRate here;
  here.name = "cord: broken";
  here.before = {2, 4};
  here.faults = 3;
  here.item_years = 5;
  history::LearnedRate there = here;
  there.faults = 1;
  there.item_years = 7;
  const Rates rates = pooled_rates({{here}, {there}});
  EXPECT_NEAR(rates.at("cord: broken").shape, 2 + 3 + 1, 1e-12);
  EXPECT_NEAR(rates.at("cord: broken").exposure, 4 + 5 + 7, 1e-12);
}

}  // namespace
}  // namespace whichlink::stock
