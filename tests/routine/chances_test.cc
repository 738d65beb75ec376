#include "routine/chances.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "moves/arrangement.h"
#include "moves/support.h"
#include "routine/plan.h"
#include "simulate/room.h"

namespace whichlink::routine {
namespace {

// Worked out by hand in percent, rounded: so half a percent either way.
constexpr double kHalfAPercent = .005;
constexpr double kSpreadDb = 4;
constexpr double kStepDb = 5;

TEST(TripLevel, MoreThanFiveDbCatchesWhatIsPublishedForIt) {
  EXPECT_NEAR(chance_tripped(5, 5, kStepDb, kSpreadDb), .27, kHalfAPercent);
  EXPECT_NEAR(chance_tripped(10, 5, kStepDb, kSpreadDb), .73, kHalfAPercent);
  EXPECT_NEAR(chance_tripped(15, 5, kStepDb, kSpreadDb), .97, kHalfAPercent);
}

TEST(TripLevel, MoreThanTenDbCatchesWhatIsPublishedForIt) {
  EXPECT_NEAR(chance_tripped(5, 10, kStepDb, kSpreadDb), .03, kHalfAPercent);
  EXPECT_NEAR(chance_tripped(10, 10, kStepDb, kSpreadDb), .27, kHalfAPercent);
  EXPECT_NEAR(chance_tripped(15, 10, kStepDb, kSpreadDb), .73, kHalfAPercent);
  EXPECT_NEAR(chance_tripped(20, 10, kStepDb, kSpreadDb), .97, kHalfAPercent);
}

// The second way: the area under the bell curve beyond both limits, by the midpoint rule.
double area_beyond(double change, double limit, double spread) {
  constexpr int kPieces = 400000;
  const double low = change - 12 * spread;
  const double width = 24 * spread / kPieces;
  double sum = 0;
  for (int piece = 0; piece < kPieces; ++piece) {
    const double x = low + (piece + .5) * width;
    if (std::abs(x) <= limit) continue;
    const double z = (x - change) / spread;
    sum += std::exp(-z * z / 2) * width;
  }
  return sum / (spread * std::sqrt(2 * std::numbers::pi));
}

TEST(TripLevel, IsTheAreaBeyondBothLimits) {
  for (const double change : {0.0, 3.0, -10.0, 25.0}) {
    for (const double trip : {5.0, 10.0}) {
      EXPECT_NEAR(chance_tripped(change, trip, kStepDb, 3.5),
                  area_beyond(change, trip + kStepDb / 2, 3.5), 1e-5)
          << change << " " << trip;
    }
  }
}

TEST(TripLevel, TheFalseAlarmOfManyIsThatOfNoneSpared) {
  const double one = chance_tripped(0, 5, kStepDb, kSpreadDb);
  double none = 1;
  for (int count = 0; count < 12; ++count) none *= 1 - one;
  EXPECT_NEAR(chance_any_tripped(12, 5, kStepDb, kSpreadDb), 1 - none, 1e-12);
  EXPECT_EQ(chance_any_tripped(0, 5, kStepDb, kSpreadDb), 0);
}

TEST(TripLevel, CountsFrequenciesTimesEarsOfTheList) {
  const moves::Shop room("single-room");
  const moves::Setting& setting = room.setting;
  EXPECT_EQ(trip_cost(setting, 0, 10).thresholds, 0U);  // none of them daily
  const TripCost weekly = trip_cost(setting, 1, 5);
  EXPECT_EQ(weekly.thresholds, 12U);
  EXPECT_NEAR(weekly.false_alarm, chance_any_tripped(12, 5, 5, 4), 1e-12);
  EXPECT_EQ(trip_cost(setting, 1, 10).thresholds, 12U);
  EXPECT_LT(trip_cost(setting, 1, 10).false_alarm, weekly.false_alarm);
}

TEST(TripLevel, AChangeCountsEitherWayBeyondHalfAStepMore) {
  EXPECT_FALSE(counts_as_changed(5, 5, 5));
  EXPECT_FALSE(counts_as_changed(7.5, 5, 5));
  EXPECT_TRUE(counts_as_changed(10, 5, 5));
  EXPECT_TRUE(counts_as_changed(-10, 5, 5));
  EXPECT_FALSE(counts_as_changed(10, 10, 5));
}

class FoundByACheck : public ::testing::Test {
 protected:
  RouteId route(const std::string& name) const { return room.route(name); }
  FaultId fault(const std::string& name) const { return room.fault(name); }

  // How often a room that answers by chance blames the route, listened to and then stressed.
  double blamed(RouteId on, std::optional<FaultId> planted, std::size_t listener, bool stressed,
                int rooms, std::uint64_t seed) const {
    const moves::Standing start = moves::stand_at_start(setting, on);
    std::optional<moves::Move> listen = moves::find_move(setting, start, "listen");
    std::optional<moves::Move> stress = moves::find_move(setting, start, "stress all");
    Random random(seed);
    int found = 0;
    for (int count = 0; count < rooms; ++count) {
      simulate::Truth truth = simulate::nothing_wrong(setting);
      if (planted) {
        const auto mode = setting.faults()[*planted].mode;
        const double shows = mode ? room.installation.rules.modes[*mode].chance_shows
                                  : room.installation.rules.unlisted.chance_shows;
        truth.states[planted->value] = random.chance(shows) ? belief::kShowing : belief::kQuiet;
      }
      simulate::Room simulated(setting, truth, listener, seed * 1000003 + count);
      bool wrong = simulated.respond(start, *listen) != 0;
      const moves::Standing then = moves::after(setting, start, *listen);
      if (stressed) wrong = (simulated.respond(then, *stress) != 0) || wrong;
      found += wrong ? 1 : 0;
    }
    return static_cast<double>(found) / rooms;
  }

  const moves::Shop room{"single-room"};
  const moves::Setting& setting = room.setting;
};

TEST_F(FoundByACheck, AsOftenAsInSimulatedRooms) {
  constexpr int kRooms = 6000;
  const std::vector<std::pair<std::string, std::string>> cases = {
      {"left phone", "headset cord.cord.left: fractured conductor"},
      {"left phone", "headset cord.left pins: tarnished pins"},
      {"left phone", "left earphone.driver: level off"},
      {"left phone", "headset cord.cord.right: broken conductor"},
      {"left phone", "left phone: not listed"},
      {"bone", "bone jack: weak spring"},
      {"button", "response button.switch: worn switch"},
  };
  std::uint64_t seed = 1;
  for (const auto& [on, name] : cases) {
    for (const bool stressed : {false, true}) {
      for (const std::size_t listener : {0U, 1U}) {
        SCOPED_TRACE(name + (stressed ? " stressed" : " untouched"));
        const double exact = chance_found(setting, route(on), fault(name), listener, stressed);
        const double seen = blamed(route(on), fault(name), listener, stressed, kRooms, ++seed);
        EXPECT_NEAR(seen, exact, 4 * std::sqrt(exact * (1 - exact) / kRooms) + 1e-12);
      }
    }
  }
}

TEST_F(FoundByACheck, ASoundRouteIsBlamedAsOftenAsInSimulatedRooms) {
  constexpr int kRooms = 12000;
  for (const std::string on : {"left phone", "bone", "button"}) {
    for (const bool stressed : {false, true}) {
      const double exact = chance_false_alarm(setting, route(on), 0, stressed);
      const double seen = blamed(route(on), std::nullopt, 0, stressed, kRooms, 77);
      EXPECT_NEAR(seen, exact, 4 * std::sqrt(exact * (1 - exact) / kRooms) + 1e-12) << on;
    }
  }
}

// Closed form: an untouched sound route is blamed when a sound ear slips.
TEST_F(FoundByACheck, AnUntouchedSoundRouteIsBlamedByTheEarAlone) {
  EXPECT_NEAR(chance_false_alarm(setting, route("left phone"), 0, false), .015, 1e-12);
  EXPECT_NEAR(chance_false_alarm(setting, route("left phone"), 1, false), .03, 1e-12);
  EXPECT_NEAR(chance_false_alarm(setting, route("button"), 0, false), 0, 1e-12);
}

TEST_F(FoundByACheck, StressFindsAFracturedConductorMoreOften) {
  const FaultId fractured = fault("headset cord.cord.left: fractured conductor");
  const double untouched = chance_found(setting, fractured, 0, false);
  const double stressed = chance_found(setting, fractured, 0, true);
  EXPECT_GT(untouched, .2);
  EXPECT_LT(untouched, .4);
  EXPECT_GT(stressed, .9);
}

TEST_F(FoundByACheck, WhatIsSilentIsFoundNearlySurely) {
  for (const std::string name :
       {"left earphone.driver: open coil", "headset cord.cord.left: broken conductor"}) {
    EXPECT_GT(chance_found(setting, fault(name), 0, false), .97) << name;
    EXPECT_GT(chance_found(setting, fault(name), 0, true), .995) << name;
  }
}

TEST_F(FoundByACheck, ANewListenerFindsLess) {
  const FaultId weak = fault("left earphone.driver: level off");
  EXPECT_LT(chance_found(setting, weak, 1, false), chance_found(setting, weak, 0, false));
}

TEST_F(FoundByACheck, AFaultOfAnotherRouteIsBlamedOnlyByFalseAlarm) {
  EXPECT_NEAR(chance_found(setting, route("left phone"), fault("bone jack: weak spring"), 0, true),
              chance_false_alarm(setting, route("left phone"), 0, true), 1e-12);
}

TEST_F(FoundByACheck, ASparesFaultIsNotFound) {
  EXPECT_EQ(chance_found(setting, fault("spare headset cord.cord.left: broken conductor"), 0, true),
            0);
}

TEST_F(FoundByACheck, TheFaultIsLookedForOnItsOwnRoute) {
  const FaultId right = fault("headset cord.cord.right: broken conductor");
  EXPECT_NEAR(chance_found(setting, right, 0, true),
              chance_found(setting, route("right phone"), right, 0, true), 1e-12);
}

TEST_F(FoundByACheck, AListIsSpoiltUnlessEveryRouteIsSpared) {
  double spared = 1;
  for (const RouteId on : room.chain().routes.ids()) {
    spared *= 1 - chance_false_alarm(setting, on, 0, true);
  }
  EXPECT_NEAR(chance_false_alarm_of_list(setting, 0, "practised"), 1 - spared, 1e-12);
  EXPECT_NE(chance_false_alarm_of_list(setting, 0, "new"),
            chance_false_alarm_of_list(setting, 0, "practised"));
  EXPECT_EQ(chance_false_alarm_of_list(setting, 0, "nobody"),
            chance_false_alarm_of_list(setting, 0, "practised"));
}

}  // namespace
}  // namespace whichlink::routine
