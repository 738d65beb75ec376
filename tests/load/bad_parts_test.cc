#include <gtest/gtest.h>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using namespace std::string_view_literals;

// Parts, signals and the rest of the rules.
const Slip kBadPart[] = {
    {"AnUnknownClassOfAPiece",
     "near plug: barrel plug"sv,
     "near plug: barrel plgu"sv,
     {"f:103:18: there is no class \"barrel plgu\"; expected button, wire, barrel plug, barrel "
      "jack, spade plug or bell (did you mean \"barrel plug\"?)"}},
    {"AFullStopInTheNameOfAPiece",
     "      spare core: wire\n"sv,
     "      spare.core: wire\n"sv,
     {"f:106:7: the name \"spare.core\" holds a full stop or a colon; expected none in the name of "
      "a part, piece or lane",
      "f:110:21: there is no piece \"spare core\"; expected near plug, wire or far plug"}},
    {"AColonInTheNameOfALane",
     "{line: {class: wire, lanes: [red, blue]}}"sv,
     "{line: {class: wire, lanes: [\"re:d\", blue]}}"sv,
     {"f:119:42: the name \"re:d\" holds a full stop or a colon; expected none in the name of a "
      "part, piece or lane"}},
    {"ALaneListedTwice",
     "{line: {class: wire, lanes: [red, blue]}}"sv,
     "{line: {class: wire, lanes: [red, red]}}"sv,
     {"f:119:47: the lane \"red\" is listed twice; expected it once"}},
    {"APartWithoutPieces",
     "    pieces: {line: {class: wire, lanes: [red, blue]}}"sv,
     "    pieces: {}"sv,
     {"f:119:13: no pieces; expected at least one"}},
    {"AMouldedJointOfAPieceWithItself",
     "- [wire.red, far plug]"sv,
     "- [wire.red, wire.blue]"sv,
     {"f:109:9: a joint of a piece with itself; expected two different pieces"}},
    {"AMouldedJointWithAnUnknownPiece",
     "- [wire.red, far plug]"sv,
     "- [wire.red, fra plug]"sv,
     {"f:109:20: there is no piece \"fra plug\"; expected near plug, wire, far plug or spare core "
      "(did you mean \"far plug\"?)"}},
    {"AMouldedJointWithAnUnknownLane",
     "- [wire.red, far plug]"sv,
     "- [wire.rad, far plug]"sv,
     {"f:109:10: \"wire\" has no lane \"rad\"; expected red or blue (did you mean \"red\"?)"}},
    {"AMouldedJointOfOneLaneWithTwo",
     "- [wire.red, far plug]"sv,
     "- [wire, far plug]"sv,
     {"f:109:9: the lanes of the two pieces differ; expected the same names on both sides, or one "
      "lane of each as piece.lane"}},
    {"AMouldedJointTwice",
     "- [wire.red, far plug]"sv,
     "- [wire.red, far plug]\n      - [far plug, wire.red]"sv,
     {"f:110:9: the two pieces are joined already; expected joints without a ring"}},
    {"AMouldedRing",
     "- [wire.red, far plug]"sv,
     "- [wire.red, far plug]\n      - [near plug, far plug]"sv,
     {"f:110:9: the two pieces are joined already; expected joints without a ring"}},
    {"AMouldedJointOfThree",
     "- [wire.red, far plug]"sv,
     "- [wire.red, far plug, near plug]"sv,
     {"f:109:9: this is no joint; expected two pieces: [one, another]"}},
    {"ASignalForAnUnknownSense",
     "{sense: ear, words: \"a test tone\""sv,
     "{sense: eye, words: \"a test tone\""sv,
     {"f:137:17: there is no sense \"eye\"; expected ear or meter"}},
    {"WordsForAnUnknownSymptom",
     "{silent: \"no ring at all\""sv,
     "{silence: \"no ring at all\""sv,
     {"f:134:21: there is no symptom \"silence\"; expected rings, faint, fainter or silent (did "
      "you mean \"silent\"?)"}},
    {"ALevelWithoutItsUnit",
     "level: 65, level unit: dB"sv,
     "level: 65"sv,
     {"f:137:3: the key \"level unit\" is missing; expected a text"}},
    {"ALevelThatBeginsAboveItsEnd",
     "{from: 60, to: 70}"sv,
     "{from: 80, to: 70}"sv,
     {"f:131:12: a level that begins above its end; expected from <= to"}},
    {"ChanceBadOfASpareMissing",
     "{chance bad: .005, source: judged}"sv,
     "{source: judged}"sv,
     {"f:140:3: the key \"chance bad\" is missing; expected a chance from 0 to 1"}},
    {"UnlistedIsMissing",
     "unlisted:\n  rate: {low: .02, mid: .05, high: .2}\n  shows: .5\n  stays: .9\n  symptoms: {ear: {silent: 1}}\n  source: judged\n\n"sv,
     ""sv,
     {"f:2:1: the key \"unlisted\" is missing; expected the rate and symptoms of a cause that is "
      "not listed"}},
    {"ACrossingWithoutATrace",
     "  trace: {words: \"Follow the wires.\", minutes: 1}\n"sv,
     ""sv,
     {"f:150:3: the key \"trace\" is missing; expected {words: ..., minutes: ...}"}},
    {"APriceIsMissing",
     "miss minutes: 60, "sv,
     ""sv,
     {"f:155:9: the key \"miss minutes\" is missing; expected minutes, from 0 to 100000"}},
    {"DaysBeyondACentury",
     "days since pass: 7"sv,
     "days since pass: 36501"sv,
     {"f:162:20: \"36501\" is out of range; expected days, from 0 to 36500"}},
    {"ANameOfSixtyOneCharacters",
     "  bell: {words: bell, role: end}"sv,
     "  bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb: {words: bell, role: end}"sv,
     {"f:97:3: a text of 61 characters; expected at most 60"}},
    {"ANameThatBeginsWithASpace",
     "  bell: {words: bell, role: end}"sv,
     "  \" bell\": {words: bell, role: end}"sv,
     {"f:97:3: the name \" bell\" begins or ends with a space; expected a name without"}},
};

class BadPart : public ::testing::TestWithParam<Slip> {};

TEST_P(BadPart, BringsExactlyTheseComplaints) {
  const Slip& slip = GetParam();
  const std::string text = edited(good("doorbell.yaml"), slip.from, slip.to);
  ASSERT_FALSE(text.empty());
  EXPECT_EQ(lines(rules_from(text, "f")), slip.lines);
}

INSTANTIATE_TEST_SUITE_P(Each, BadPart, ::testing::ValuesIn(kBadPart), claim_of);

}  // namespace
}  // namespace whichlink::load
