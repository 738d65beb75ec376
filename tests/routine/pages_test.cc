#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "guide/support.h"
#include "render/check_pages.h"

namespace whichlink::routine {
namespace {

using testing::shipped;

struct Shown {
  explicit Shown(const std::string& model, const std::string& list = "daily")
      : installation(shipped(model)), setting(installation, 7) {
    CheckFile events;
    events.list = list;
    events.at = "2026-11-26T08:30";
    round = std::move(Round::open(setting, events).value());
  }
  void say(const std::string& heard, std::optional<When> when = {}) {
    ASSERT_FALSE(round->take(Said{round->now()->name, {heard, {}}, when, {}}));
  }
  void until(Kind kind, bool pair) {
    while (round->now()->kind != kind || round->now()->is_pair() != pair) {
      if (round->now()->kind == Kind::look || round->now()->kind == Kind::sweep) {
        say(kYes);
      } else if (round->now()->kind == Kind::thresholds) {
        say(kWithin);
      } else {
        say(round->now()->is_pair() ? kAsItShould : guide::kCannotDo);
      }
    }
  }
  moves::Installation installation;
  moves::Setting setting;
  std::unique_ptr<Round> round;
};

void expect_tidy(const std::string& page) {
  std::istringstream lines(page);
  for (std::string line; std::getline(lines, line);) {
    EXPECT_LE(render::columns(line), 80U) << line;
    EXPECT_TRUE(line.empty() || line.back() != ' ') << "\"" << line << "\"";
  }
}

TEST(CheckPages, KeepTo80ColumnsAndEndNoLineWithABlank) {
  const render::Style style;
  for (const std::string model :
       {"two-room-booth", "single-room", "screening-set", "small-stage"}) {
    Shown shown(model, "weekly");
    expect_tidy(render::check_opening_page(*shown.round, style));
    expect_tidy(render::check_result_page(*shown.round, style));
    while (shown.round->now() != nullptr) {
      const Step step = *shown.round->now();
      expect_tidy(render::check_step_page(*shown.round, step, style));
      expect_tidy(render::check_answer_line(*shown.round, step, style));
      expect_tidy(render::check_help_page(*shown.round, step, style));
      if (step.kind == Kind::look) shown.say(kNo);
      if (step.kind == Kind::sweep) shown.say(kNo);
      if (step.kind == Kind::thresholds) shown.say(guide::kNotSure);
      if (step.kind == Kind::listen && step.is_pair()) shown.say(kNotRight);
      if (step.kind != Kind::listen || step.is_pair()) continue;
      const SignalId signal = shown.installation.chain.routes[step.routes.front()].signal;
      const SenseId sense = shown.installation.rules.signals[signal].sense;
      shown.say(shown.installation.rules.senses[sense].symptoms[1].name, When::stressed);
    }
    for (const RouteId route : shown.round->to_isolate()) {
      expect_tidy(render::failed_line(*shown.round, route, style));
    }
    expect_tidy(render::when_line(style));
    expect_tidy(render::check_result_page(*shown.round, style));
  }
}

TEST(CheckPages, NoCautionThatKeepsSomebodyFromHarmIsLeftOut) {
  Shown shown("two-room-booth");
  std::string page = render::check_opening_page(*shown.round, {});
  std::replace(page.begin(), page.end(), '\n', ' ');
  const auto is_shown = [&](const std::string& words) {
    std::istringstream all(words);
    std::string flat;
    for (std::string word; all >> word;) flat += (flat.empty() ? "" : " ") + word;
    std::istringstream again(page);
    std::string flat_page;
    for (std::string word; again >> word;) flat_page += " " + word;
    return flat_page.find(flat) != std::string::npos;
  };
  const faults::Rules& rules = shown.installation.rules;
  for (const std::size_t always : rules.always) {
    EXPECT_TRUE(is_shown(rules.cautions[always].words)) << rules.cautions[always].name;
  }
  for (const Step& step : shown.round->plan().steps) {
    for (const auto& [element, stress] : step.stresses) {
      for (const std::size_t one : rules.stresses[stress].cautions) {
        EXPECT_TRUE(is_shown(rules.cautions[one].words)) << rules.cautions[one].name;
      }
    }
    for (const RouteId route : step.routes) {
      for (const std::size_t one :
           rules.signals[shown.installation.chain.routes[route].signal].cautions) {
        EXPECT_TRUE(is_shown(rules.cautions[one].words)) << rules.cautions[one].name;
      }
    }
    if (!step.item) continue;
    for (const std::size_t one : rules.routine->items[*step.item].cautions) {
      EXPECT_TRUE(is_shown(rules.cautions[one].words)) << rules.cautions[one].name;
    }
  }
}

TEST(CheckPages, TheResultHangsANoticeOnTheFailedRouteOnly) {
  Shown shown("single-room");
  shown.until(Kind::listen, false);
  ASSERT_EQ(shown.round->now()->name, "listen to bone");
  shown.say("drops out", When::stressed);
  const std::string page = render::check_result_page(*shown.round, {});
  EXPECT_NE(page.find("DO NOT USE: bone"), std::string::npos) << page;
  EXPECT_NE(page.find("Drops out, only under stress."), std::string::npos) << page;
  EXPECT_NE(page.find("2026-11-26 08:30"), std::string::npos);
  EXPECT_EQ(page.find("DO NOT USE: left phone"), std::string::npos);
  EXPECT_NE(page.find("Stopped before the end"), std::string::npos);
  EXPECT_NE(page.find("check the route again under stress"), std::string::npos);
  EXPECT_NE(page.find("Works meanwhile\n  - left phone\n  - right phone\n"), std::string::npos)
      << page;
}

TEST(CheckPages, JsonSaysWhatThePageSays) {
  Shown shown("single-room");
  shown.until(Kind::listen, false);
  shown.say("weak 20", When::untouched);
  const render::Json json = render::check_json(*shown.round);
  EXPECT_EQ(json["list"], "daily");
  EXPECT_EQ(json["complete"], false);
  EXPECT_EQ(json["routes"][0]["verdict"], "passed");
  EXPECT_EQ(json["routes"][2]["route"], "bone");
  EXPECT_EQ(json["routes"][2]["verdict"], "failed");
  EXPECT_EQ(json["routes"][2]["report"]["heard"], "weak 20");
  EXPECT_EQ(json["routes"][2]["when"], "untouched");
  EXPECT_EQ(json["routes"][3]["verdict"], "not checked");
  EXPECT_EQ(json["do_not_use"], render::Json({"bone"}));
  EXPECT_EQ(json["before_use"].size(), 3U);
  EXPECT_EQ(json["works_meanwhile"], render::Json({"left phone", "right phone"}));
  EXPECT_GT(json["cautions"].size(), 6U);
  EXPECT_EQ(json["steps"].size(), shown.round->plan().steps.size());
  EXPECT_EQ(json["items"][0]["answer"], "yes");
  EXPECT_TRUE(json["items"].back()["answer"].is_null());
}

}  // namespace
}  // namespace whichlink::routine
