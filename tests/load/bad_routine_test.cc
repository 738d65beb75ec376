#include <gtest/gtest.h>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using namespace std::string_view_literals;

// The routine check: lists, items, signals, trip level and reference levels.
const Slip kBadRoutine[] = {
    {"AMisspeltKey",
     "  stress minutes: .05"sv,
     "  stress minuts: .05"sv,
     {"f:167:3: unknown key \"stress minuts\"; expected lists, items, signals, levels, trip, "
      "stress "
      "minutes or if failed (did you mean \"stress minutes\"?)"}},
    {"NoLists",
     "    daily: {words: \"every morning\", every days: 1}\n    weekly: {words: \"on Mondays\", every days: 7, takes in: [daily]}\n"sv,
     "    {}\n"sv,
     {"f:170:5: no lists; expected at least one"}},
    {"AListThatTakesInALaterOne",
     "every days: 1}"sv,
     "every days: 1, takes in: [weekly]}"sv,
     {"f:170:63: there is no list before this one \"weekly\""}},
    {"AListEveryNoDays",
     "every days: 1}"sv,
     "every days: 0}"sv,
     {"f:170:49: \"0\" is out of range; expected days above 0, at most 3660"}},
    {"AnItemOfAnUnknownList",
     "    look:\n      list: daily"sv,
     "    look:\n      list: dialy"sv,
     {"f:174:13: there is no list \"dialy\"; expected daily or weekly (did you mean \"daily\"?)"}},
    {"AnItemWithoutAQuestion",
     "      asks: \"Is it there?\"\n"sv,
     ""sv,
     {"f:173:5: the key \"asks\" is missing; expected a text"}},
    {"AnItemWithoutWhatFollows",
     "      if not: \"Find it.\"\n"sv,
     ""sv,
     {"f:173:5: the key \"if not\" is missing; expected a text"}},
    {"AnItemWithAnUnknownCaution",
     "      cautions: [low voltage]\n    sweep"sv,
     "      cautions: [low voltige]\n    sweep"sv,
     {"f:179:18: there is no caution \"low voltige\"; expected low voltage or label it (did you "
      "mean \"low voltage\"?)"}},
    {"AnUnknownSignal",
     "    tone: {list: weekly"sv,
     "    tune: {list: weekly"sv,
     {"f:189:5: there is no signal \"tune\"; expected ring or tone (did you mean \"tone\"?)"}},
    {"APairOfAnUnknownSide",
     "tone at {other}\""sv,
     "tone at {another}\""sv,
     {"f:186:21: braces that hold something other than `one` or `other`; expected {one}, {other} "
      "or no braces"}},
    {"FrequenciesThatDoNotGrow",
     "[250, 500.5]"sv,
     "[250, 250]"sv,
     {"f:187:68: a frequency that is not above 250; expected frequencies that grow from one to the "
      "next"}},
    {"AFrequencyOfNothing",
     "frequencies: [1000]"sv,
     "frequencies: [0]"sv,
     {"f:188:73: \"0\" is out of range; expected a frequency in Hz above 0, at most 100000"}},
    {"NoFrequencies",
     "frequencies: [1000]"sv,
     "frequencies: []"sv,
     {"f:188:72: an empty list; expected at least one"}},
    {"AFrequencyAlone",
     "frequencies: [1000]"sv,
     "frequencies: 1000"sv,
     {"f:188:72: \"1000\"; expected a list: [one, another]"}},
    {"ThresholdsWithoutATripLevel",
     "  trip: {choices: [5, 10], usual: 10, step: 5, because: \"It is so.\"}\n"sv,
     ""sv,
     {"f:166:3: thresholds without a trip level; expected trip: {choices: ..., usual: ..., step: "
      "..., because: ...}"}},
    {"AUsualTripLevelThatIsNoChoice",
     "usual: 10"sv,
     "usual: 15"sv,
     {"f:190:35: 15 is none of the choices; expected one of them"}},
    {"ATripLevelOfNothing",
     "choices: [5, 10]"sv,
     "choices: [0, 10]"sv,
     {"f:190:20: \"0\" is out of range; expected dB above 0, at most 120"}},
    {"AReferenceThatIsNoPair",
     "[1000, -7]]"sv,
     "[1000, -7, 3]]"sv,
     {"f:199:32: something other than a frequency and its dB; expected [1000, 7.5]"}},
    {"AReferenceWithoutALimit",
     "[8000, 5]]"sv,
     "[800, 5]]"sv,
     {"f:192:5: a reference at 1000 Hz without a limit; expected limits up to the highest "
      "frequency"}},
    {"LimitsThatDoNotGrow",
     "[[600, 3], [8000, 5]]"sv,
     "[[9000, 3], [8000, 5]]"sv,
     {"f:200:27: a frequency that is not above 9000; expected frequencies that grow from one to "
      "the next"}},
    {"ALimitOfNothing",
     "[8000, 5]]"sv,
     "[8000, 0]]"sv,
     {"f:200:33: \"0\" is out of range; expected dB above 0, at most 120"}},
    {"AYearBeforeAllStandards",
     "year: 1999"sv,
     "year: 199"sv,
     {"f:196:13: \"199\" is out of range; expected a year from 1900 to 2200"}},
    {"LevelsOfAnUnknownSignal",
     "signal: ring\n      coupler"sv,
     "signal: rang\n      coupler"sv,
     {"f:193:15: there is no signal \"rang\"; expected ring or tone (did you mean \"ring\"?)"}},
    {"LevelsWithoutAStandard",
     "      standard: HOUSE 1\n"sv,
     ""sv,
     {"f:192:5: the key \"standard\" is missing; expected a text"}},
    {"AYearAndAHalf",
     "year: 1999"sv,
     "year: 1999.5"sv,
     {"f:196:13: 1999.5 is no year; expected a year from 1900 to 2200"}},
};

class BadRoutine : public ::testing::TestWithParam<Slip> {};

TEST_P(BadRoutine, BringsExactlyTheseComplaints) {
  const Slip& slip = GetParam();
  const std::string text = edited(good("doorbell.yaml"), slip.from, slip.to);
  ASSERT_FALSE(text.empty());
  EXPECT_EQ(lines(rules_from(text, "f")), slip.lines);
}

TEST(BadRoutineNumbers, EachNeedsASource) {
  const std::string text =
      edited(good("doorbell.yaml"), "routine:\n  source: judged\n", "routine:\n");
  const std::vector<std::string> all = lines(rules_from(text, "f"));
  EXPECT_EQ(all.size(), 25U);  // every number of it but the one that has its own
  for (const std::string& line : all) {
    EXPECT_NE(line.find(" has no source; expected a key `source`"), std::string::npos) << line;
  }
}

INSTANTIATE_TEST_SUITE_P(Each, BadRoutine, ::testing::ValuesIn(kBadRoutine), claim_of);

}  // namespace
}  // namespace whichlink::load
