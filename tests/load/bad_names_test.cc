#include <gtest/gtest.h>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using namespace std::string_view_literals;

// Names that lead nowhere, and joints that no hand can make.
const Slip kBadName[] = {
    {"AnUnknownKindOfPart",
     "    button: button\n"sv,
     "    button: buton\n"sv,
     {"f:13:13: there is no kind of part \"buton\"; expected bell cord, twin line, twin wall line, "
      "button, wire, barrel plug, barrel jack, spade plug or bell (did you mean "
      "\"button\"?)"}},
    {"AnUnknownPlaceOfParts",
     "  porch:\n    button"sv,
     "  proch:\n    button"sv,
     {"f:12:3: there is no place \"proch\"; expected hall, porch or loft (did you mean "
      "\"porch\"?)"}},
    {"AnUnknownPlaceOfAPiece",
     "place of: {outdoors: porch}"sv,
     "place of: {outdoors: perch}"sv,
     {"f:23:55: there is no place \"perch\"; expected hall, porch or loft (did you mean "
      "\"porch\"?)"}},
    {"APlaceOfAnUnknownPiece",
     "place of: {outdoors: porch}"sv,
     "place of: {outside: porch}"sv,
     {"f:23:45: there is no piece \"outside\"; expected indoors or outdoors"}},
    {"APlaceOfAPieceInAPartOfOnePiece",
     "    line: twin line"sv,
     "    line: {kind: twin line, place of: {line: porch}}"sv,
     {"f:24:40: there is no piece \"line\""}},
    {"APartTwiceInOnePlace",
     "    line: twin line"sv,
     "    line: twin line\n    line: twin line"sv,
     {"f:25:5: the key \"line\" is repeated; expected it once: it stands in line 24 already"}},
    {"APartInTwoPlaces",
     "    line: twin line"sv,
     "    line: twin line\n    button: button"sv,
     {"f:25:5: the part \"button\" is there already; expected a name of its own: line 13 has this "
      "one"}},
    {"ASpareWithTheNameOfAPart",
     "  spare cord: {kind"sv,
     "  wall: {kind"sv,
     {"f:60:3: the part \"wall\" is there already; expected a name of its own: line 23 has this "
      "one"}},
    {"AFullStopInTheNameOfAPart",
     "    line: twin line"sv,
     "    line.two: twin line\n    line: twin line"sv,
     {"f:24:5: the name \"line.two\" holds a full stop or a colon; expected none in the name of a "
      "part, piece or lane"}},
    {"AJointWithAnUnknownPart",
     "- [left out, left jack]"sv,
     "- [left oot, left jack]"sv,
     {"f:29:6: there is no part \"left oot\"; expected button, left cord, right cord, left out, "
      "right out, left jack, right jack, left in jack or one of 7 more (did you mean \"left "
      "out\"?)"}},
    {"AJointWithAnUnknownPiece",
     "- [left cord.near plug, left jack]"sv,
     "- [left cord.near plgu, left jack]"sv,
     {"f:40:6: there is no piece \"left cord.near plgu\"; expected left cord.near plug, left "
      "cord.wire, left cord.far plug or left cord.spare core (did you mean \"left cord.near "
      "plug\"?)"}},
    {"AJointWithAnUnknownLane",
     "line.red]"sv,
     "line.read]"sv,
     {"f:31:20: \"line\" has no lane \"read\"; expected red or blue (did you mean \"red\"?)"}},
    {"AJointWithAWholePartOfSeveralPieces",
     "- [left cord.near plug, left jack]"sv,
     "- [left cord, left jack]"sv,
     {"f:40:6: \"left cord\" is a part of several pieces; expected left cord.near plug, left "
      "cord.wire, left cord.far plug or left cord.spare core"}},
    {"AJointWithALaneOfALanelessElement",
     "- [left out, left jack]"sv,
     "- [left out.red, left jack]"sv,
     {"f:29:6: \"left out\" has no named lanes or pieces; expected \"left out\""}},
    {"AJointWithTooManyFullStops",
     "line.red]"sv,
     "line.line.red]"sv,
     {"f:31:20: \"line.line.red\" has too many full stops; expected part or part.lane"}},
    {"AJointOfOneElement",
     "- [left out, left jack]"sv,
     "- [left out]"sv,
     {"f:29:5: this is no joint; expected two elements: [one, another]"}},
    {"AJointOfAnElementWithItself",
     "- [left out, left jack]"sv,
     "- [left out, left jack]\n  - [line.red, line.blue]"sv,
     {"f:30:5: a joint of \"line.red\" with itself; expected two different elements"}},
    {"AJointTwice",
     "- [line, wall.indoors]"sv,
     "- [line, wall.indoors]\n  - [wall.indoors.red, line.red]"sv,
     {"f:34:5: \"wall.indoors.red\" and \"line.red\" are joined already; expected each joint "
      "once"}},
    {"AJointWithASpare",
     "- [left out, left jack]"sv,
     "- [left out, left jack]\n  - [left out, spare cord.spare core]"sv,
     {"f:30:16: \"spare cord\" is a spare, which is joined to nothing; expected a part from "
      "`parts`"}},
    {"LanesThatDiffer",
     "- [left in jack, line.red]"sv,
     "- [left in jack, line]"sv,
     {"f:31:5: the lanes of \"left in jack\" and \"line\" differ; expected the same names on both "
      "sides, or one lane of each"}},
    {"APlugIntoAPlug",
     "- [left cord.far plug, left in jack]"sv,
     "- [left cord.far plug, right cord.far plug]"sv,
     {"f:41:5: \"right cord.far plug\" is a plug; expected a jack second"}},
    {"AJackIntoAJack",
     "- [left cord.far plug, left in jack]"sv,
     "- [right jack, left in jack]"sv,
     {"f:41:5: \"right jack\" is a jack; expected a plug first"}},
    {"AJackBeforeItsPlug",
     "- [left cord.far plug, left in jack]"sv,
     "- [left in jack, left cord.far plug]"sv,
     {"f:41:5: the jack stands before the plug; expected [left cord.far plug, left in jack]"}},
    {"APlugIntoAWire",
     "- [left cord.far plug, left in jack]"sv,
     "- [left cord.far plug, left out]"sv,
     {"f:41:5: \"left out\" is neither plug nor jack; expected a jack second"}},
    {"APlugOfAnotherConnector",
     "- [left cord.far plug, left in jack]"sv,
     "- [loose end, left in jack]"sv,
     {"f:41:5: a spade plug does not go into a barrel jack; expected plug and jack of one "
      "connector"}},
    {"OneLaneOfAPlug",
     "- [left cord.far plug, left in jack]"sv,
     "- [left cord.far plug, line.red]"sv,
     {"f:41:5: a single lane of a plug or jack; expected the whole plug and jack"}},
    {"OnePlugInTwoJacks",
     "- [right cord.far plug, right in jack]"sv,
     "- [left cord.far plug, right in jack]"sv,
     {"f:43:5: \"left cord.far plug\" is plugged into \"left in jack\" already; expected one jack "
      "to a plug"}},
    {"TwoPlugsInOneJack",
     "- [right cord.far plug, right in jack]"sv,
     "- [right cord.far plug, left in jack]"sv,
     {"f:43:5: \"left in jack\" holds \"left cord.far plug\" already; expected one plug to a "
      "jack"}},
    {"APlugInItsJackTwice",
     "- [right cord.far plug, right in jack]"sv,
     "- [right cord.far plug, right in jack]\n  - [right cord.far plug, right in jack]"sv,
     {"f:44:5: \"right cord.far plug\" is plugged there already; expected each joint once"}},
    {"APluggedJointUnderFixed",
     "- [left out, left jack]"sv,
     "- [left out, left jack]\n  - [left cord.near plug, left jack]"sv,
     {"f:30:5: a plug in its jack is no fixed joint; expected it under plugged"}},
};

class BadName : public ::testing::TestWithParam<Slip> {};

TEST_P(BadName, BringsExactlyTheseComplaints) {
  const Slip& slip = GetParam();
  const std::string text = edited(good("two-doors.yaml"), slip.from, slip.to);
  ASSERT_FALSE(text.empty());
  EXPECT_EQ(lines(installation_from(text, "f", rules_from(good("doorbell.yaml"), "rules").value())),
            slip.lines);
}

INSTANTIATE_TEST_SUITE_P(Each, BadName, ::testing::ValuesIn(kBadName), claim_of);

}  // namespace
}  // namespace whichlink::load
