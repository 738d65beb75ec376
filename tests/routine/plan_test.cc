#include "routine/plan.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "guide/support.h"
#include "moves/standing.h"

namespace whichlink::routine {
namespace {

using testing::shipped;

constexpr double kClose = 1e-9;
const std::vector<std::string> kShipped = {"two-room-booth", "single-room", "screening-set",
                                           "small-stage"};

std::size_t list_named(const moves::Installation& installation, const std::string& name) {
  const auto& lists = installation.rules.routine->lists;
  for (std::size_t index = 0; index < lists.size(); ++index) {
    if (lists[index].name == name) return index;
  }
  ADD_FAILURE() << "no list " << name;
  return 0;
}

struct Planned {
  explicit Planned(const std::string& model, const std::string& list = "daily")
      : installation(shipped(model)),
        setting(installation, 7),
        plan(plan_of(setting, list_named(installation, list))) {}

  [[nodiscard]] std::vector<const Step*> on(const std::string& route, Kind kind) const {
    std::vector<const Step*> found;
    for (const Step& step : plan.steps) {
      for (const RouteId one : step.routes) {
        if (installation.chain.routes[one].name == route && step.kind == kind) {
          found.push_back(&step);
        }
      }
    }
    return found;
  }

  moves::Installation installation;
  moves::Setting setting;
  Plan plan;
};

TEST(Plan, EveryRouteOfEveryShippedInstallationIsListenedToOnce) {
  for (const std::string& model : kShipped) {
    for (const std::string list : {"daily", "weekly"}) {
      SCOPED_TRACE(model + " " + list);
      const Planned planned(model, list);
      for (const chain::Route& route : planned.installation.chain.routes) {
        EXPECT_EQ(planned.on(route.name, Kind::listen).size(), 1U) << route.name;
      }
      EXPECT_TRUE(planned.plan.left_out.empty());
    }
  }
}

TEST(Plan, ThePairIsOneStep) {
  const Planned planned("two-room-booth");
  for (const std::string side : {"phone", "insert", "speaker"}) {
    const auto left = planned.on("left " + side, Kind::listen);
    EXPECT_EQ(left, planned.on("right " + side, Kind::listen));
    EXPECT_TRUE(left.front()->is_pair());
  }
  EXPECT_FALSE(planned.on("bone", Kind::listen).front()->is_pair());
}

TEST(Plan, TheWeeklyListHoldsTheDailyOneAndMore) {
  for (const std::string& model : kShipped) {
    const Planned daily(model);
    const Planned weekly(model, "weekly");
    std::set<std::string> names;
    for (const Step& step : weekly.plan.steps) names.insert(step.name);
    for (const Step& step : daily.plan.steps) EXPECT_TRUE(names.contains(step.name)) << step.name;
    EXPECT_GT(weekly.plan.steps.size(), daily.plan.steps.size()) << model;
  }
}

TEST(Plan, NoTwoStepsShareAName) {
  for (const std::string& model : kShipped) {
    const Planned planned(model, "weekly");
    std::set<std::string> names;
    for (const Step& step : planned.plan.steps) EXPECT_TRUE(names.insert(step.name).second);
  }
}

TEST(Plan, ItemsStandBeforeAndAfterTheRoutesAsTheRulesSay) {
  const Planned planned("two-room-booth", "weekly");
  bool routes_seen = false;
  for (const Step& step : planned.plan.steps) {
    if (!step.item) {
      routes_seen = true;
      continue;
    }
    EXPECT_EQ(planned.installation.rules.routine->items[*step.item].after, routes_seen)
        << step.name;
  }
  EXPECT_TRUE(routes_seen);
}

// Counted from the classes of the elements on the way, without the plan's own loop.
TEST(Plan, EverythingOnTheRouteThatBearsAStressIsStressedOnceInItsOrder) {
  std::size_t seen = 0;
  for (const std::string& model : kShipped) {
    const Planned planned(model);
    const faults::Rules& rules = planned.installation.rules;
    for (const Step& step : planned.plan.steps) {
      if (step.kind != Kind::listen) continue;
      std::map<std::pair<ElementId, StressId>, int> wanted;
      for (const RouteId route : step.routes) {
        const auto path =
            planned.setting.tracer().trace(route, planned.installation.chain.home).path;
        std::vector<std::pair<ElementId, StressId>> in_order;
        for (const ElementId element : moves::elements_of(planned.installation.chain, path)) {
          const ClassId kind = planned.installation.chain.elements[element].element_class;
          for (const StressId one : rules.classes[kind].stresses) {
            wanted[{element, one}] = 1;
            in_order.emplace_back(element, one);
          }
        }
        if (!step.stresses.empty() && route == step.routes.front()) {
          EXPECT_TRUE(std::equal(in_order.begin(), in_order.end(), step.stresses.begin()));
        }
      }
      if (!signal_of(planned.setting, step.routes.front())->stressed) wanted.clear();
      std::map<std::pair<ElementId, StressId>, int> got;
      for (const auto& one : step.stresses) ++got[one];
      EXPECT_EQ(got, wanted) << step.name;
      seen += got.size();
      const bool alone_apart =
          planned.installation.people < 2 &&
          std::any_of(step.stresses.begin(), step.stresses.end(), [&](const auto& one) {
            return planned.installation.chain.elements[one.first].place != step.to;
          });
      EXPECT_NEAR(step.stressing_minutes,
                  static_cast<double>(got.size()) * rules.routine->stress_minutes +
                      (alone_apart ? rules.handling.alone_minutes : 0),
                  kClose);
    }
  }
  EXPECT_GT(seen, 100U);
}

TEST(Plan, LoudspeakersAreLeftUntouched) {
  const Planned planned("two-room-booth");
  EXPECT_TRUE(planned.on("left speaker", Kind::listen).front()->stresses.empty());
  EXPECT_FALSE(planned.on("bone", Kind::listen).front()->stresses.empty());
}

TEST(Plan, ADayAtTheBoothTakesOneToTwoMinutesOfListening) {
  const Planned planned("two-room-booth");
  EXPECT_GE(planned.plan.listening_minutes, 1);
  EXPECT_LE(planned.plan.listening_minutes, 2);
}

// Six of the seven stops lead from the control room into the booth; talk forward stays outside.
TEST(Plan, WalkingAtTheBoothIsThatCountedByHand) {
  const Planned planned("two-room-booth");
  EXPECT_NEAR(planned.plan.walking_minutes, .3 * (6 + 5), kClose);
  EXPECT_NEAR(planned.plan.walking_minutes_by_two, .3, kClose);
  EXPECT_TRUE(planned.plan.least_walking);
}

TEST(Plan, TheMinutesAreThoseOfTheSteps) {
  const Planned planned("two-room-booth", "weekly");
  double all = 0;
  for (const Step& step : planned.plan.steps) {
    all += step.walking_minutes + step.looking_minutes + step.listening_minutes +
           step.stressing_minutes;
  }
  EXPECT_NEAR(all,
              planned.plan.walking_minutes + planned.plan.looking_minutes +
                  planned.plan.listening_minutes + planned.plan.stressing_minutes,
              kClose);
  // Two phones and two inserts with a sweep of .14 and thresholds of 1.5 each, bone with a sweep.
  EXPECT_NEAR(planned.plan.listening_minutes, .2 + .2 + .15 + .2 + 3 * .15 + 4 * 1.64 + .1, kClose);
}

TEST(Plan, OneSideAloneStressesOnlyWhatItsRoutePasses) {
  const Planned planned("two-room-booth");
  const Step& pair = *planned.on("left phone", Kind::listen).front();
  const Step left = alone(planned.setting, pair, pair.routes.front());
  EXPECT_EQ(left.name, "listen to left phone");
  EXPECT_EQ(left.routes.size(), 1U);
  EXPECT_EQ(left.stresses.size(), 12U);
  for (const auto& [element, stress] : left.stresses) {
    EXPECT_EQ(planned.installation.chain.elements[element].name.find("right"), std::string::npos);
  }
}

TEST(Plan, WordsNameBothSidesOfAPair) {
  const Planned planned("two-room-booth");
  const Step& pair = *planned.on("left phone", Kind::listen).front();
  EXPECT_NE(plays(planned.setting, pair).find("on left phone, narrow-band"), std::string::npos);
  EXPECT_NE(expects(planned.setting, pair).find("noise on right phone only"), std::string::npos);
  EXPECT_EQ(plays(planned.setting, pair).find('{'), std::string::npos);
  EXPECT_EQ(expects(planned.setting, *planned.on("talkback", Kind::listen).front()),
            "a clear voice");
}

}  // namespace
}  // namespace whichlink::routine
