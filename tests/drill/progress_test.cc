#include "history/progress.h"

#include "drill/menu.h"
#include "render/drill_pages.h"
#include "render/progress_pages.h"
#include "trainees.h"

namespace whichlink::testing {
namespace {

record::Drilled one(const std::string& trainee, const std::string& lesson, double ideal,
                    double lost, const std::string& habit) {
  record::Drilled drill;
  drill.trainee = trainee;
  drill.lesson = lesson;
  drill.drill_case = "a";
  drill.at = "2026-11-26T08:00:00";
  drill.ideal = ideal;
  drill.lost = lost;
  if (lost > 0) drill.losses = {{habit, lost}};
  return drill;
}

// By hand: 30 of 40 minutes; in the later half 20 of 20.
TEST(Progress, IsTheShareOfTheIdealThatWasKept) {
  const history::Progress progress = history::progress_of(
      "T1", {one("T1", "a", 10, 10, "quiet fault"), one("T1", "b", 20, 0, "")});
  EXPECT_DOUBLE_EQ(progress.all.share_kept(), .75);
  EXPECT_DOUBLE_EQ(progress.late.share_kept(), 1);
  ASSERT_EQ(progress.all.by_habit.size(), 1U);
  EXPECT_EQ(progress.all.by_habit.front().habit, "quiet fault");
}

TEST(Progress, AClassTellsWhoStrugglesWithWhat) {
  const history::ClassView view = history::class_of(
      {one("T1", "easy", 20, 0, ""), one("T2", "easy", 20, 5, "splitting"),
       one("T1", "hard", 20, 60, "calling"), one("T2", "hard", 20, 20, "quiet fault")});
  ASSERT_EQ(view.trainees.size(), 2U);
  EXPECT_EQ(view.trainees[0].all.by_habit.front().habit, "calling");
  EXPECT_EQ(view.trainees[1].all.by_habit.front().habit, "quiet fault");
  ASSERT_EQ(view.lessons.size(), 2U);
  EXPECT_EQ(view.lessons[0].lesson, "hard");
  EXPECT_EQ(view.lessons[0].weakest, "T1");
  EXPECT_DOUBLE_EQ(view.lessons[0].weakest_kept, .25);
  EXPECT_DOUBLE_EQ(view.lessons[0].losses.share_kept(), 40.0 / 120);
  EXPECT_EQ(view.lessons[1].weakest, "T2");
  const std::string page = render::class_page(view, {80, false, true});
  EXPECT_NE(page.find("hard: T1 (25 points)"), std::string::npos) << page;
}

TEST(Progress, WhatGoesOnRecordIsTheScore) {
  Played played(first_case("listen and stress first"));
  drill::Drill& drill = *played.drill;
  ASSERT_FALSE(drill.take(held("headset cord", .5)));
  play(drill, trainees()[2].begin(1), false);
  const record::Drilled kept = history::drilled(drill, "T1", "listen and stress first");
  const drill::Score score = drill.score();
  EXPECT_EQ(kept.lost, score.lost);
  EXPECT_EQ(kept.ideal, score.ideal);
  double sum = 0;
  for (const record::DrillLoss& loss : kept.losses) sum += loss.minutes;
  EXPECT_NEAR(sum, score.lost, 1e-9);
  ASSERT_EQ(kept.claims.size(), 1U);
  EXPECT_TRUE(kept.claims.front().is_true);
  EXPECT_EQ(kept.trainee, "T1");
}

void expect_narrow(const std::string& page) {
  std::istringstream lines(page);
  for (std::string line; std::getline(lines, line);) {
    EXPECT_LE(render::columns(line), 80U) << line;
  }
}

const render::Style kStyle{80, false, true};

void expect_narrow_menus_and_hints(drill::Drill& drill, const render::DrillTitle& title) {
  const std::vector<moves::Move> possible = drill.possible();
  const auto menu = drill::menu_of(possible);
  expect_narrow(render::drill_menu(drill, menu, kStyle));
  for (const drill::MenuEntry& kind : menu) {
    expect_narrow(render::drill_kind_page(drill, menu, kind, kStyle));
  }
  for (int hint = 0; hint < 3; ++hint) {
    EXPECT_FALSE(drill.take(said(drill::Say::hint)));
    const std::string page = render::drill_hint_page(drill, title, kStyle);
    EXPECT_FALSE(page.empty());
    expect_narrow(page);
  }
}

/// @return moves made
std::size_t expect_narrow_drill(const drill::Lesson& where) {
  Played played(where.cases.front());
  drill::Drill& drill = *played.drill;
  const render::DrillTitle title{where.name, where.goal, where.hint, 1, "T1"};
  expect_narrow(render::drill_opening_page(drill, title, kStyle));
  expect_narrow(render::drill_help_page(drill, kStyle));
  const Habits habits = at_random(3);
  while (drill.stage() == drill::Stage::under_way && drill.turns().size() < 12) {
    expect_narrow_menus_and_hints(drill, title);
    EXPECT_FALSE(drill.take(habits(drill)));
    if (drill.turns().back().chosen.move) {
      expect_narrow(render::drill_turn_page(drill, true, kStyle));
    }
  }
  if (drill.stage() == drill::Stage::under_way) (void)drill.take(said(drill::Say::close));
  expect_narrow(render::drill_checks_page(drill, kStyle));
  EXPECT_FALSE(drill.take(said(drill::Say::checks)));
  expect_narrow(render::drill_summary_page(drill, title, &drill, kStyle));
  return drill.score().moves;
}

TEST(Pages, FitIntoEightyColumns) {
  std::size_t moves = 0;
  for (const char* name : {"direct connection", "put everything back", "two faults at once"}) {
    moves += expect_narrow_drill(lesson(name));
  }
  EXPECT_GE(moves, 10U);
}

TEST(Pages, APlotHoldsEveryBinThatWasUsed) {
  const auto sum = drill::calibration_of({{.9, true}, {.9, false}, {.1, false}});
  const std::string svg = render::calibration_plot("T1 <b>", sum);
  std::size_t dots = 0;
  for (std::size_t at = svg.find("<circle"); at != std::string::npos;
       at = svg.find("<circle", at + 1)) {
    ++dots;
  }
  EXPECT_EQ(dots, 2U);
  EXPECT_NE(svg.find("T1 &lt;b&gt;"), std::string::npos);
  EXPECT_EQ(svg.rfind("</svg>\n"), svg.size() - 7);
}

}  // namespace
}  // namespace whichlink::testing
