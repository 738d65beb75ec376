#include <gtest/gtest.h>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using namespace std::string_view_literals;

// Values of the wrong kind, out of range or without a source.
const Slip kBadValue[] = {
    {"AnUnknownKeyIsNamedWithTheNearest",
     "    minutes: .5\n    false"sv,
     "    mintes: .5\n    false"sv,
     {"f:42:5: unknown key \"mintes\"; expected short, words, minutes, false alarm or cautions "
      "(did you mean \"minutes\"?)"}},
    {"AKeyOfTheFileItself",
     "about: A button"sv,
     "abuot: A button"sv,
     {"f:3:1: unknown key \"abuot\"; expected trade, about, cautions, always, connectors, senses, "
      "meter, stresses or one of 13 more (did you mean \"about\"?)"}},
    {"ATextIsMissing",
     "    asks: What does the bell do?\n"sv,
     ""sv,
     {"f:13:3: the key \"asks\" is missing; expected a text"}},
    {"ATextIsEmpty",
     "trade: doorbells"sv,
     "trade: \"\""sv,
     {"f:2:8: an empty text; expected at least one character"}},
    {"AValueIsMissing", "trade: doorbells"sv, "trade:"sv, {"f:2:1: no value; expected a text"}},
    {"AListWhereATextBelongs",
     "trade: doorbells"sv,
     "trade: [doorbells]"sv,
     {"f:2:8: a list; expected a text"}},
    {"ALineBreakInAText",
     "trade: doorbells"sv,
     "trade: \"door\\nbells\""sv,
     {"f:2:8: a line break in a text; expected one line"}},
    {"AnEscapedControlCharacterInAText",
     "trade: doorbells"sv,
     "trade: \"door\\ebells\""sv,
     {"f:2:8: a control character in a text; expected one line"}},
    {"ATextWhereAMappingBelongs",
     "stresses:\n  flex:\n"sv,
     "stresses:\n  twist: turn it\n  flex:\n"sv,
     {"f:39:10: \"turn it\"; expected a mapping"}},
    {"ATextWhereNamesBelong",
     "        mistakes:\n          faint: {rings: .2, fainter: .05}"sv,
     "        mistakes: none"sv,
     {"f:26:19: \"none\"; expected a mapping from names"}},
    {"AMappingWhereAListBelongs",
     "always: [low voltage]"sv,
     "always: {low voltage: true}"sv,
     {"f:8:9: a mapping; expected a list: [one, another]"}},
    {"ANumberInLetters",
     "    minutes: .5\n    false"sv,
     "    minutes: half\n    false"sv,
     {"f:42:14: \"half\" is no number; expected minutes, from 0 to 100000"}},
    {"ANumberInQuotes",
     "    minutes: .5\n    false"sv,
     "    minutes: \".5\"\n    false"sv,
     {"f:42:14: \".5\"; expected minutes, from 0 to 100000"}},
    {"ANumberThatIsNone",
     "    minutes: .5\n    false"sv,
     "    minutes: nan\n    false"sv,
     {"f:42:14: \"nan\" is no number; expected minutes, from 0 to 100000"}},
    {"ANumberWithoutEnd",
     "    minutes: .5\n    false"sv,
     "    minutes: inf\n    false"sv,
     {"f:42:14: \"inf\" is no number; expected minutes, from 0 to 100000"}},
    {"ANumberTooLargeToHold",
     "    minutes: .5\n    false"sv,
     "    minutes: 1e999\n    false"sv,
     {"f:42:14: \"1e999\" is no number; expected minutes, from 0 to 100000"}},
    {"ANumberInHexadecimal",
     "    minutes: .5\n    false"sv,
     "    minutes: 0x10\n    false"sv,
     {"f:42:14: \"0x10\" is no number; expected minutes, from 0 to 100000"}},
    {"ANumberWithItsUnit",
     "    minutes: .5\n    false"sv,
     "    minutes: .5 min\n    false"sv,
     {"f:42:14: \".5 min\" is no number; expected minutes, from 0 to 100000"}},
    {"ANumberWithAPlus",
     "    minutes: .5\n    false"sv,
     "    minutes: +.5\n    false"sv,
     {"f:42:14: \"+.5\" is no number; expected minutes, from 0 to 100000"}},
    {"MinutesBelowZero",
     "    minutes: .5\n    false"sv,
     "    minutes: -.5\n    false"sv,
     {"f:42:14: \"-.5\" is out of range; expected minutes, from 0 to 100000"}},
    {"AChanceAboveOne",
     "shows: .3"sv,
     "shows: 1.3"sv,
     {"f:71:16: \"1.3\" is out of range; expected a chance from 0 to 1"}},
    {"AChanceBelowZero",
     "shows: .3"sv,
     "shows: -.3"sv,
     {"f:71:16: \"-.3\" is out of range; expected a chance from 0 to 1"}},
    {"NeitherTrueNorFalse",
     "exchangeable: true"sv,
     "exchangeable: yes"sv,
     {"f:111:19: \"yes\"; expected true or false"}},
    {"ATrueInQuotes",
     "exchangeable: true"sv,
     "exchangeable: \"true\""sv,
     {"f:111:19: \"true\"; expected true or false"}},
    {"ANumberWithoutASource",
     "    cautions: [low voltage]\n    source: judged\n  press"sv,
     "    cautions: [low voltage]\n  press"sv,
     {"f:42:14: the number \".5\" has no source; expected a key `source` in this mapping or in one "
      "around it",
      "f:43:26: the number \".02\" has no source; expected a key `source` in this mapping or in "
      "one around it"}},
    {"EachNumberOfARateWithoutASource",
     "        symptoms: {meter: {open: 1}}\n        source: judged"sv,
     "        symptoms: {meter: {open: 1}}"sv,
     {"f:90:21: the number \"0\" has no source; expected a key `source` in this mapping or in one "
      "around it",
      "f:90:29: the number \".01\" has no source; expected a key `source` in this mapping or in "
      "one around it",
      "f:90:40: the number \".02\" has no source; expected a key `source` in this mapping or in "
      "one around it",
      "f:92:34: the number \"1\" has no source; expected a key `source` in this mapping or in one "
      "around it"}},
    {"ASourceThatIsAMapping",
     "prices: {miss minutes: 60, service minutes: 45, source: judged}"sv,
     "prices: {miss minutes: 60, service minutes: 45, source: {who: me}}"sv,
     {"f:155:57: a mapping; expected a text that says where the numbers come from (`source` names "
      "nothing)"}},
    {"AnEmptySource",
     "prices: {miss minutes: 60, service minutes: 45, source: judged}"sv,
     "prices: {miss minutes: 60, service minutes: 45, source: \"\"}"sv,
     {"f:155:57: an empty text; expected at least one character"}},
};

class BadValue : public ::testing::TestWithParam<Slip> {};

TEST_P(BadValue, BringsExactlyTheseComplaints) {
  const Slip& slip = GetParam();
  const std::string text = edited(good("doorbell.yaml"), slip.from, slip.to);
  ASSERT_FALSE(text.empty());
  EXPECT_EQ(lines(rules_from(text, "f")), slip.lines);
}

INSTANTIATE_TEST_SUITE_P(Each, BadValue, ::testing::ValuesIn(kBadValue), claim_of);

}  // namespace
}  // namespace whichlink::load
