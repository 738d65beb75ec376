#include <gtest/gtest.h>

#include "load/load.h"

namespace whichlink::load {
namespace {

const std::string kGood = R"(stores: Northgate cupboard
source: invented for the test
money: {name: EUR, a minute: .8}
fetch days: 1
sites:
  - {installation: single-room, rooms: 12}
  - {installation: two-room-booth}
parts:
  headset cord: {price: 14.5, lead days: 5, on hand: 1, on order: 2, order at least: 3, service: .98}
  ear tip: {shelf days: 700, ready days: 0}
)";

TEST(Stores, AreReadAsTheyStand) {
  const auto file = stores_from(kGood, "f");
  ASSERT_TRUE(file) << to_line(file.error().front());
  EXPECT_EQ(file->name, "Northgate cupboard");
  EXPECT_EQ(file->money, "EUR");
  EXPECT_EQ(file->money_per_minute, .8);
  EXPECT_EQ(file->fetch_days, 1);
  ASSERT_EQ(file->sites.size(), 2U);
  EXPECT_EQ(file->sites[0].rooms, 12U);
  EXPECT_EQ(file->sites[1].rooms, 1U);
  EXPECT_EQ(file->sites[1].place.line, 7);
  ASSERT_EQ(file->terms.size(), 2U);
  const stock::SaidTerms& cord = file->terms[0];
  EXPECT_EQ(cord.price, 14.5);
  EXPECT_EQ(cord.lead_days, 5);
  EXPECT_EQ(cord.on_hand, 1U);
  EXPECT_EQ(cord.on_order, 2U);
  EXPECT_EQ(cord.batch, 3U);
  EXPECT_EQ(cord.service, .98);
  EXPECT_FALSE(cord.shelf_days);
  EXPECT_EQ(file->terms[1].shelf_days, 700);
  EXPECT_FALSE(file->terms[1].on_hand);
}

TEST(Stores, NumbersNeedASource) {
  std::string text = kGood;
  text.erase(text.find("source"), 30);
  const auto file = stores_from(text, "f");
  ASSERT_FALSE(file);
  EXPECT_EQ(file.error().size(), 11U) << "every number of the file";
}

struct Slip {
  const char* name;
  std::string good, bad, line;
};
class BadStores : public ::testing::TestWithParam<Slip> {};

TEST_P(BadStores, AreOneLineWithItsPlace) {
  std::string text = kGood;
  const std::size_t at = text.find(GetParam().good);
  ASSERT_NE(at, std::string::npos);
  text.replace(at, GetParam().good.size(), GetParam().bad);
  const auto file = stores_from(text, "f");
  ASSERT_FALSE(file);
  ASSERT_EQ(file.error().size(), 1U);
  EXPECT_EQ(to_line(file.error().front()), GetParam().line);
}

INSTANTIATE_TEST_SUITE_P(
    Slips, BadStores,
    ::testing::Values(
        Slip{"NoName", "stores: Northgate cupboard\n", "",
             "f:1:1: the key \"stores\" is missing; expected a text"},
        Slip{"MisspeltKey", "on order", "on ordre",
             "f:9:57: unknown key \"on ordre\"; expected price, lead days, ready days, shelf days, "
             "service, on hand, on order or order at least (did you mean \"on order\"?)"},
        Slip{"HalfARoom", "rooms: 12", "rooms: 1.5",
             "f:6:40: \"1.5\" is no whole number; expected a whole number from 1 to 100000"},
        Slip{"NoRoom", "rooms: 12", "rooms: 0",
             "f:6:40: \"0\" is out of range; expected a whole number from 1 to 100000"},
        Slip{"CertainService", "service: .98", "service: 1",
             "f:9:98: \"1\" is out of range; expected a chance from .5 to .9999"},
        Slip{"AtOnce", "lead days: 5", "lead days: 0",
             "f:9:42: \"0\" is out of range; expected days above 0, at most 3660"},
        Slip{"WorthlessMinute", "a minute: .8", "a minute: 0",
             "f:3:30: \"0\" is out of range; expected money above 0, at most 1000000"},
        Slip{"SitesAsText", "  - {installation: two-room-booth}\n", "  - two-room-booth\n",
             "f:7:5: \"two-room-booth\"; expected a mapping"}),
    [](const auto& slip) { return std::string(slip.param.name); });

}  // namespace
}  // namespace whichlink::load
