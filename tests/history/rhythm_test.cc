#include "history/rhythm.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "guide/support.h"
#include "history/found_by_check.h"

namespace whichlink::history {
namespace {

using testing::shipped;

class Rhythms : public ::testing::TestWithParam<std::string> {
 protected:
  Rhythms() : installation_(shipped(GetParam())), setting_(installation_, 0) {}
  [[nodiscard]] std::vector<upkeep::Unrevealed> faults() const {
    return unrevealed_faults(setting_, found_on_list(setting_, 0, usual_listener(setting_)));
  }
  moves::Installation installation_;
  moves::Setting setting_;
};

TEST_P(Rhythms, CheapestIsNoDearerThanAnyOther) {
  const Rhythm rhythm = rhythm_of(setting_, faults(), minutes_of_check(setting_, 0));
  for (const RhythmCost& one : rhythm.curve) {
    EXPECT_LE(rhythm.cheapest.minutes(), one.minutes() * (1 + 1e-9)) << one.days;
  }
  for (const RhythmCost& one : rhythm.named) {
    EXPECT_LE(rhythm.cheapest.minutes(), one.minutes() * (1 + 1e-9)) << one.days;
  }
  EXPECT_GE(rhythm.cheapest.days, 1);
  EXPECT_LT(rhythm.named[0].spoilt_sessions, rhythm.named[2].spoilt_sessions)
      << "checked more often, fewer are spoilt";
}

// Faults of a year: the rates of all faults that lie on a route, added up apart.
TEST_P(Rhythms, CountsEveryFaultOnARouteOnce) {
  std::vector<bool> on_a_route(setting_.faults().size());
  for (const RouteId route : setting_.chain().routes.ids()) {
    const chain::Path path = setting_.tracer().trace(route, setting_.chain().home).path;
    for (const FaultId fault : setting_.faults_on(path, route)) on_a_route[fault.value] = true;
  }
  double per_year = 0;
  for (const FaultId fault : setting_.faults().ids()) {
    if (!on_a_route[fault.value]) continue;
    const auto mode = setting_.faults()[fault].mode;
    per_year += mode ? setting_.rules().modes[*mode].rate.mid_per_year
                     : setting_.rules().unlisted.rate.mid_per_year;
  }
  EXPECT_NEAR(rhythm_of(setting_, faults(), 10).faults_per_year, per_year, 1e-9 * per_year);
}

// Nobody stresses what the list leaves untouched, so it finds a fractured lead there less often.
TEST(Rhythm, RouteIsStressedAsItsSignalSays) {
  moves::Installation booth = shipped("two-room-booth");
  const auto found = [&] {
    const moves::Setting setting(booth, 0);
    double least = 1;
    for (const FaultId fault : setting.faults().ids()) {
      if (setting.name_of(fault).rfind("left speaker cord.wire: fractured", 0) != 0) continue;
      least = found_on_list(setting, 0, "practised")(fault, setting.routes_with(fault).front());
    }
    return least;
  };
  const double untouched = found();
  for (faults::RoutineSignal& one : booth.rules.routine->signals) one.stressed = true;
  EXPECT_LT(untouched, found() - .1);
}

// Where every session surely notices what shows, a hazard would have no bound, and 0 times it no
// value.
TEST(Rhythm, WhatEverySessionNoticesIsKnownSooner) {
  moves::Installation room = shipped("single-room");
  const auto mean_days = [&] {
    const moves::Setting setting(room, 0);
    const auto faults = unrevealed_faults(setting, found_on_list(setting, 0, "practised"));
    for (const upkeep::Unrevealed& fault : faults) {
      EXPECT_TRUE(std::isfinite(fault.noticed_per_day));
    }
    return cost_of(*room.use, faults, 5, 4).days_undetected;
  };
  const double judged = mean_days();
  for (std::vector<double>& sense : room.use->noticed) std::fill(sense.begin(), sense.end(), 1);
  for (const ModeId mode : room.rules.modes.ids()) room.rules.modes[mode].chance_shows = 1;
  const double surely = mean_days();
  EXPECT_TRUE(std::isfinite(surely));
  EXPECT_LT(surely, judged / 4);
}

INSTANTIATE_TEST_SUITE_P(Shipped, Rhythms,
                         ::testing::Values("two-room-booth", "single-room", "screening-set",
                                           "small-stage"),
                         [](const auto& tested) {
                           std::string name = tested.param;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

// One kind of fault that nobody notices, and a perfect check: the minimum of check / T + cost *
// (1 - (1 - e^-x)/x), x = rate T, by a fine scan of that formula alone (mean probability of failure
// on demand: formula seen, 2015 reliability-engineering article).
TEST(Rhythm, OneSilentFaultAgreesWithTheFormulaAlone) {
  faults::Use use;
  use.sessions_per_day = 10;
  use.days_per_year = 230;
  use.spoilt_minutes = 60;
  const std::vector<upkeep::Unrevealed> faults = {{.01, 1, 0, 600}};
  const auto by_formula = [](double days) {
    const double x = .01 * days;
    return 230 * (12 / days + 600 * (1 + std::expm1(-x) / x));
  };
  for (const double days : {1.0, 2.0, 4.4, 19.0}) {
    EXPECT_NEAR(cost_of(use, faults, 12, days).minutes(), by_formula(days), 1e-6) << days;
  }
  // A check that finds three in four adds T (1/b - 1) to the delay, so it spoils more.
  EXPECT_GT(cost_of(use, {{.01, .75, 0, 600}}, 12, 4).spoilt_sessions,
            cost_of(use, faults, 12, 4).spoilt_sessions);
  // And what is noticed in use spoils less.
  EXPECT_LT(cost_of(use, {{.01, 1, .5, 600}}, 12, 4).spoilt_sessions,
            cost_of(use, faults, 12, 4).spoilt_sessions);
}

}  // namespace
}  // namespace whichlink::history
