#include <gtest/gtest.h>

#include <algorithm>

#include "load/load.h"
#include "load/reader.h"
#include "load/support.h"

// What a slip in the good texts cannot show: limits, and parts that the good rules do not have.
namespace whichlink::load {
namespace {

std::string many(int count, const std::string& before, const std::string& after) {
  std::string text;
  for (int index = 0; index < count; ++index) text += before + std::to_string(index) + after;
  return text;
}

TEST(Limits, NamesOfOneKind) {
  const std::string text = good("doorbell.yaml");
  const std::string cautions = "cautions:\n";
  const int room = static_cast<int>(kMostNames) - 2;
  EXPECT_TRUE(
      rules_from(edited(text, cautions, cautions + many(room, "  c", ": x\n")), "f").has_value());
  EXPECT_EQ(
      lines(rules_from(edited(text, cautions, cautions + many(room + 1, "  c", ": x\n")), "f"))
          .at(0),
      "f:506:3: too many names; expected at most 500");
}

TEST(Limits, ItemsOfOneList) {
  const int room = static_cast<int>(kMostListed);
  const std::string text = "complaint: {route: a, heard: b}\ndone:\n";
  const auto full = case_from(text + many(room, "- {heard: x, move: m", "}\n"), "f");
  ASSERT_TRUE(full.has_value());
  EXPECT_EQ(full->done.size(), kMostListed);
  EXPECT_EQ(lines(case_from(text + many(room + 1, "- {heard: x, move: m", "}\n"), "f")),
            std::vector<std::string>{"f:3:1: a list of 5001; expected at most 5000"});
}

TEST(Limits, SensesAndSymptoms) {
  const std::string text = good("doorbell.yaml");
  const std::string sense =
      ": {asks: x, symptoms: {a: {key: a, words: a}, b: {key: c, words: b}}, listeners: {l: {}}}\n";
  EXPECT_TRUE(rules_from(edited(text, "  meter:\n", many(6, "  s", sense) + "  meter:\n"), "f")
                  .has_value());
  EXPECT_EQ(lines(rules_from(
                edited(text, "meter: meter\n", many(7, "  s", sense) + "meter: meter\n"), "f")),
            std::vector<std::string>{"f:42:3: too many names; expected at most 8"});

  const std::string symptom = ": {key: k, words: x}\n";
  const auto symptoms = lines(rules_from(
      edited(text, "    elsewhere:", many(37, "      s", symptom) + "    elsewhere:"), "f"));
  EXPECT_EQ(
      std::count(symptoms.begin(), symptoms.end(), "f:57:7: too many names; expected at most 40"),
      1);
}

TEST(Limits, ModesInAll) {
  const std::string mode =
      ": {words: x, family: y, rate: {low: 0, mid: 0, high: 0, source: z}, "
      "symptoms: {ear: {silent: 1, source: z}}}\n";
  std::string classes;
  for (int index = 0; index < 4; ++index) {
    classes += "  class" + std::to_string(index) + ":\n    words: x\n    role: link\n    modes:\n" +
               many(500, "      m", mode);
  }
  const std::string text = good("doorbell.yaml");
  const auto answer = lines(rules_from(edited(text, "classes:\n", "classes:\n" + classes), "f"));
  ASSERT_EQ(answer.size(), 2U);
  EXPECT_EQ(answer[0], "f:2083:7: too many modes in all; expected at most 2000");
}

TEST(Limits, ThereIsAtLeastOneSense) {
  const std::string text = good("doorbell.yaml");
  const std::size_t from = text.find("senses:\n") + 7;
  const std::string without =
      text.substr(0, from) + " {}" + text.substr(text.find("\nmeter: meter"));
  EXPECT_EQ(lines(rules_from(without, "f")).at(0), "f:12:9: no senses; expected at least one");
}

TEST(Limits, AListInPlaceOfAName) {
  const std::string text =
      edited(good("two-doors.yaml"), "[hall, porch, loft]", "[hall, porch, [loft]]");
  const auto rules = rules_from(good("doorbell.yaml"), "rules");
  EXPECT_EQ(lines(installation_from(text, "f", rules.value())),
            std::vector<std::string>{"f:8:23: a list; expected a name"});
}

TEST(Joints, APlugOfTwoLanesDoesNotGoIntoAJackOfOne) {
  const std::string text = edited(good("doorbell.yaml"), "pieces: {line: {class: wire",
                                  "pieces: {line: {class: barrel plug");
  const auto rules = rules_from(text, "rules");
  ASSERT_TRUE(rules.has_value());
  std::string doors =
      edited(good("two-doors.yaml"), "    line: twin line",
             "    line: {kind: twin wall line}\n    two: twin line\n    free: barrel jack");
  doors = edited(doors, "  - [left in jack, line.red]\n", "");
  doors = edited(doors, "  - [right in jack, line.blue]\n", "");
  doors = edited(doors, "  - [line, wall.indoors]\n", "");
  doors = edited(doors, "plugged:\n", "plugged:\n  - [two, free]\n");
  EXPECT_EQ(lines(installation_from(doors, "f", *rules)),
            std::vector<std::string>{"f:39:5: a plug and a jack with different numbers of lanes; "
                                     "expected as many in both"});
}

TEST(Joints, APlugMouldedToItsJackIsNotPluggedIntoIt) {
  const std::string text =
      edited(good("doorbell.yaml"), "    pieces: {line: {class: wire, lanes: [red, blue]}}",
             "    pieces: {out: barrel plug, in: barrel jack}\n"
             "    moulded: [[out, in]]");
  const auto rules = rules_from(text, "rules");
  ASSERT_TRUE(rules.has_value()) << lines(rules).front();
  std::string doors = edited(good("two-doors.yaml"), "    line: twin line",
                             "    line: twin wall line\n    two: twin line");
  doors = edited(doors, "  - [left in jack, line.red]\n", "");
  doors = edited(doors, "  - [right in jack, line.blue]\n", "");
  doors = edited(doors, "  - [line, wall.indoors]\n", "");
  doors = edited(doors, "plugged:\n", "plugged:\n  - [two.out, two.in]\n");
  EXPECT_EQ(lines(installation_from(doors, "f", *rules)),
            std::vector<std::string>{
                "f:38:5: \"two.out\" and \"two.in\" are joined already; expected each joint once"});
}

}  // namespace
}  // namespace whichlink::load
