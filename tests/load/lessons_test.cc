#include "load/load.h"
#include "support.h"

namespace whichlink::load {
namespace {

const std::string kGood = R"(lessons for: doorbells
source: invented for the demo
lessons:
  listen first:
    goal: "Listen."
    hint: "What do you hear?"
    teaches: listening
    cases:
      one:
        model: two-doors
        route: left door
        heard: dead
        seed: 7
        days since pass: 3
        hidden:
          - {fault: "bell wire: broken", showing: true}
          - {fault: "button: worn"}
      crossed:
        model: two-doors
        route: left door
        heard: dead
        crossed: [a plug, b plug]
        missing: [spare bell]
      any: {model: two-doors, route: left door, drawn: true}
)";

TEST(LessonsFile, IsReadAsItStands) {
  const auto lessons = lessons_from(kGood, "l.yaml");
  ASSERT_TRUE(lessons) << to_line(lessons.error().front());
  ASSERT_EQ(lessons->lessons.size(), 1U);
  const drill::Lesson& lesson = lessons->lessons.front();
  EXPECT_EQ(lesson.name, "listen first");
  EXPECT_EQ(lesson.teaches, drill::Habit::listening);
  ASSERT_EQ(lesson.cases.size(), 3U);
  const drill::DrillCase& one = lesson.cases[0];
  EXPECT_EQ(one.seed, 7U);
  EXPECT_EQ(one.days_since_pass, 3.0);
  ASSERT_EQ(one.hidden.size(), 2U);
  EXPECT_TRUE(one.hidden[0].showing);
  EXPECT_FALSE(one.hidden[1].showing);
  EXPECT_EQ(one.hidden[1].place.line, 17);
  EXPECT_EQ(lesson.cases[1].crossed, (std::vector<std::string>{"a plug", "b plug"}));
  EXPECT_EQ(lesson.cases[1].missing, std::vector<std::string>{"spare bell"});
  EXPECT_TRUE(lesson.cases[2].drawn);
  EXPECT_EQ(lesson.cases[2].seed, 1U);
}

std::string first_line(const std::string& from, const std::string& to) {
  const auto read = lessons_from(edited(kGood, from, to), "l.yaml");
  return read ? "" : to_line(read.error().front());
}

TEST(LessonsFile, WhatIsWrongIsToldWithItsPlace) {
  EXPECT_EQ(
      first_line("teaches: listening", "teaches: listning"),
      "l.yaml:7:14: there is no habit \"listning\"; expected listening, one change, following "
      "the plug, splitting, known good, wiped contact, quiet fault, second fault or one of 4 "
      "more (did you mean \"listening\"?)");
  EXPECT_EQ(first_line("seed: 7", "seed: 7.5"),
            "l.yaml:13:15: a seed that is no whole number; expected a whole number from 0 to "
            "1000000000");
  EXPECT_EQ(first_line("        seed: 7\n", "        sed: 7\n"),
            "l.yaml:13:9: unknown key \"sed\"; expected words, model, route, listener, days since "
            "pass, seed, missing, drawn or one of 3 more (did you mean \"seed\"?)");
  EXPECT_EQ(first_line("drawn: true", "drawn: false"),
            "l.yaml:24:7: nothing is hidden in this case; expected `hidden`, `crossed` or `drawn: "
            "true`");
  EXPECT_EQ(first_line("        seed: 7\n", "        drawn: true\n"),
            "l.yaml:9:7: a case that is drawn says what is hidden; expected one or the other");
  EXPECT_EQ(first_line("[a plug, b plug]", "[a plug]"),
            "l.yaml:22:18: a list of 1; expected two plugs of a pair");
  EXPECT_EQ(first_line("source: invented for the demo\n", ""),
            "l.yaml:12:15: the number \"7\" has no source; expected a key `source` in this mapping "
            "or in one around it");
  EXPECT_EQ(first_line("        route: left door\n        heard: dead\n        seed: 7\n",
                       "        route: left door\n        seed: 7\n"),
            "l.yaml:9:7: the key \"heard\" is missing; expected the complaint: a symptom");
}

TEST(LessonsFile, WithoutLessonsOrCasesIsRefused) {
  for (const std::string& text :
       {std::string("lessons for: x\nlessons: {}\n"), std::string("lessons for: x\n"),
        std::string("lessons for: x\nlessons: {a: {goal: g, hint: h, cases: {}}}\n"),
        std::string("lessons for: x\nlessons: {a: {goal: g, hint: h}}\n"), std::string(""),
        std::string("[]"), std::string("lessons for: x\nlessons: {a: 3}\n"),
        std::string("lessons for: x\nlessons: {a: {goal: g, hint: h, cases: {b: 3}}}\n")}) {
    EXPECT_FALSE(lessons_from(text, "l.yaml")) << text;
  }
}

TEST(LessonsFile, IsReadOrRefusedWhateverIsCutOff) {
  std::size_t refused = 0;
  for (std::size_t length = 0; length <= kGood.size(); ++length) {
    const auto read = lessons_from(kGood.substr(0, length), "l.yaml");
    if (read) continue;
    ++refused;
    EXPECT_FALSE(read.error().empty());
    EXPECT_EQ(to_line(read.error().front()).find('\n'), std::string::npos);
  }
  EXPECT_GT(refused, kGood.size() / 2);
}

TEST(TraineeCode, IsNoNameAndNoDate) {
  for (const char* fine : {"T1", "a-7", "2026A"}) {
    EXPECT_TRUE(trainee_code(fine, {})) << fine;
  }
  for (const char* bad : {"", "Anna", "1990-01-31", "310190", "a 7", "T1'"}) {
    EXPECT_FALSE(trainee_code(bad, {})) << bad;
  }
}

}  // namespace
}  // namespace whichlink::load
