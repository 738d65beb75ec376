#include <gtest/gtest.h>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using namespace std::string_view_literals;

// Senses, their symptoms and their listeners.
const Slip kBadSense[] = {
    {"AKeyOfThePrompt",
     "key: p, words"sv,
     "key: \"?\", words"sv,
     {"f:33:19: the key \"?\" is taken by the prompt itself; expected a character other than "
      "?.<>-+!woqbukhl"}},
    {"AKeyOfTwoCharacters",
     "key: p, words"sv,
     "key: op, words"sv,
     {"f:33:19: \"op\" is no key; expected one character"}},
    {"AKeyThatAnotherSymptomHas",
     "key: p, words"sv,
     "key: s, words"sv,
     {"f:33:19: the key \"s\" answers another symptom already; expected a key of its own"}},
    {"ElsewhereWithTheKeyOfASymptom",
     "name: other bell, key: x"sv,
     "name: other bell, key: s"sv,
     {"f:21:40: the key \"s\" answers another symptom already; expected a key of its own"}},
    {"ElsewhereWithTheNameOfASymptom",
     "{name: other bell, key: x"sv,
     "{name: silent, key: x"sv,
     {"f:21:23: \"silent\" is a symptom already; expected another name",
      "f:134:47: there is no symptom \"other bell\"; expected rings, faint, fainter or silent"}},
    {"ASymptomCalledNotSure",
     "      open: {key: p, words: \"no reading\"}"sv,
     "      open: {key: p, words: \"no reading\"}\n      not sure: {key: z, words: \"?\"}"sv,
     {"f:34:7: \"not sure\" is an answer of its own; expected another name for a symptom"}},
    {"ASenseWithOneSymptom",
     "      open: {key: p, words: \"no reading\"}\n"sv,
     ""sv,
     {"f:32:7: too few symptoms; expected at least two, the first for nothing wrong",
      "f:74:30: there is no symptom \"open\"; expected sound",
      "f:91:28: there is no symptom \"open\"; expected sound"}},
    {"ASenseWithoutListeners",
     "    listeners:\n      practised: {}\n"sv,
     "    listeners: {}\n"sv,
     {"f:34:16: no listeners; expected at least one"}},
    {"DropsThatDoNotGrow",
     "drop db: 25.5"sv,
     "drop db: 10"sv,
     {"f:19:60: a drop that is not above 10; expected drops that grow from one symptom to the "
      "next"}},
    {"ADropOfNothing",
     "drop db: 10}"sv,
     "drop db: 0}"sv,
     {"f:18:56: \"0\" is out of range; expected dB above 0, at most 120"}},
    {"ADropTooDeep",
     "drop db: 25.5"sv,
     "drop db: 120.5"sv,
     {"f:19:60: \"120.5\" is out of range; expected dB above 0, at most 120"}},
    {"ALevelSpreadIsMissing",
     "    level spread db: 4\n"sv,
     ""sv,
     {"f:13:3: the key \"level spread db\" is missing; expected dB above 0, at most 60"}},
    {"MistakesAboveOne",
     "{rings: .2, fainter: .05}"sv,
     "{rings: .7, fainter: .4}"sv,
     {"f:27:11: the mistakes add up to 1.1; expected at most 1"}},
    {"ARightReportAmongMistakes",
     "{rings: .2, fainter: .05}"sv,
     "{rings: .2, faint: .05}"sv,
     {"f:27:30: the right report among the mistakes; expected mistakes only: the rest is reported "
      "right"}},
    {"AMistakeForAnUnknownSymptom",
     "{rings: .2, fainter: .05}"sv,
     "{rings: .2, fianter: .05}"sv,
     {"f:27:30: there is no symptom \"fianter\"; expected rings, faint, fainter or silent (did you "
      "mean \"fainter\"?)"}},
    {"AMistakeOfAnUnknownSymptom",
     "          faint: {rings: .2"sv,
     "          feint: {rings: .2"sv,
     {"f:27:11: there is no symptom \"feint\"; expected rings, faint, fainter or silent (did you "
      "mean \"faint\"?)"}},
    {"AnUnknownMeter",
     "meter: meter"sv,
     "meter: metre"sv,
     {"f:36:8: there is no sense \"metre\"; expected ear or meter (did you mean \"meter\"?)"}},
};

class BadSense : public ::testing::TestWithParam<Slip> {};

TEST_P(BadSense, BringsExactlyTheseComplaints) {
  const Slip& slip = GetParam();
  const std::string text = edited(good("doorbell.yaml"), slip.from, slip.to);
  ASSERT_FALSE(text.empty());
  EXPECT_EQ(lines(rules_from(text, "f")), slip.lines);
}

INSTANTIATE_TEST_SUITE_P(Each, BadSense, ::testing::ValuesIn(kBadSense), claim_of);

}  // namespace
}  // namespace whichlink::load
