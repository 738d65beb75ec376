#include <gtest/gtest.h>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using namespace std::string_view_literals;

// Chains that are no chains, and the rest of an installation.
const Slip kBadChain[] = {
    {"ASwitchTwice",
     "- [button, right out]"sv,
     "- [button, right out]\n  - [button, left out]"sv,
     {"f:39:5: \"button\" and \"left out\" are joined already; expected each joint once"}},
    {"ARing",
     "- [wall.outdoors.blue, right bell]"sv,
     "- [wall.outdoors.blue, right bell]\n  - [left jack, right jack]"sv,
     {"f:39:5: this joint closes a ring: there is another way from \"button\" to \"right out\"; "
      "expected joints without a ring"}},
    {"ARingOfThreeFixedJoints",
     "- [wall.outdoors.blue, right bell]"sv,
     "- [wall.outdoors.blue, right bell]\n  - [right bell, wall.indoors.blue]"sv,
     {"f:36:5: this joint closes a ring: there is another way from \"right bell\" to "
      "\"wall.indoors.blue\"; expected joints without a ring"}},
    {"AWayThatStops",
     "  - [left cord.near plug, left jack]\n"sv,
     ""sv,
     {"f:44:3: the way from \"button\" stops after \"left jack\"; expected joints all the way to "
      "\"left bell\""}},
    {"AWayThatSelectsNothing",
     "    selects: left out\n"sv,
     ""sv,
     {"f:45:3: the way from \"button\" stops there: the route selects nothing; expected `selects`: "
      "left out or right out"}},
    {"AWayThatForks",
     "- [wall.outdoors.blue, right bell]"sv,
     "- [left bell, right bell]"sv,
     {"f:45:3: the way from \"button\" forks: it ends at \"left bell\" and \"right bell\"; "
      "expected one end, \"left bell\"",
      "f:52:3: the way from \"button\" stops after \"wall.outdoors.blue\"; expected joints all the "
      "way to \"right bell\""}},
    {"AWayToTheWrongEnd",
     "    to: left bell\n"sv,
     "    to: right bell\n"sv,
     {"f:47:9: the way from \"button\" ends at \"left bell\"; expected it to end at \"right "
      "bell\""}},
    {"ARouteFromNoSource",
     "    from: button\n    to: left"sv,
     "    from: left out\n    to: left"sv,
     {"f:46:11: no signal starts at \"left out\"; expected an element whose class has `role: "
      "source`"}},
    {"ARouteToNoEnd",
     "    to: left bell\n"sv,
     "    to: left jack\n"sv,
     {"f:47:9: no signal comes out at \"left jack\"; expected an element whose class has `role: "
      "end`"}},
    {"ARouteFromAnUnknownPart",
     "    from: button\n    to: left"sv,
     "    from: buttn\n    to: left"sv,
     {"f:46:11: there is no part \"buttn\"; expected button, left cord, right cord, left out, "
      "right out, left jack, right jack, left in jack or one of 7 more (did you mean "
      "\"button\"?)"}},
    {"ARouteToAPartOfSeveralLanes",
     "    to: left bell\n"sv,
     "    to: line\n"sv,
     {"f:47:9: \"line\" has several lanes; expected line.red or line.blue"}},
    {"ASelectionThatIsNotSwitched",
     "selects: left out"sv,
     "selects: left jack"sv,
     {"f:48:14: nothing under `switched` connects \"button\" with \"left jack\"; expected left out "
      "or right out"}},
    {"AnUnknownSignal",
     "signal: tone"sv,
     "signal: tune"sv,
     {"f:56:13: there is no signal \"tune\"; expected ring or tone (did you mean \"tone\"?)"}},
    {"AnUnknownSide",
     "side: right"sv,
     "side: top"sv,
     {"f:57:11: \"top\" is no side; expected left or right"}},
    {"AnUnknownPair",
     "pair: left door"sv,
     "pair: left dor"sv,
     {"f:58:11: there is no route \"left dor\"; expected left door or right door (did you mean "
      "\"left door\"?)"}},
    {"APairThatIsNotMutual",
     "    pair: left door\n"sv,
     ""sv,
     {"f:51:11: the route \"right door\" does not say the same; expected `pair: left door` there"}},
    {"ARoutePairedWithItself",
     "pair: left door"sv,
     "pair: right door"sv,
     {"f:51:11: the route \"right door\" does not say the same; expected `pair: left door` there",
      "f:58:11: a route paired with itself; expected another route"}},
    {"APairOnOneSide",
     "side: right"sv,
     "side: left"sv,
     {"f:57:11: both routes of a pair are on the left; expected one left and one right"}},
    {"APairWithOneSide",
     "    side: right\n"sv,
     ""sv,
     {"f:52:3: only one route of a pair has a side; expected one left and one right, or none"}},
    {"TwoAndAHalfPeople",
     "people: 1"sv,
     "people: 1.5"sv,
     {"f:6:9: \"1.5\" people; expected 1 or 2"}},
    {"ThreePeople",
     "people: 1"sv,
     "people: 3"sv,
     {"f:6:9: \"3\" is out of range; expected 1 or 2"}},
    {"AnUnknownStart",
     "start: hall"sv,
     "start: hal"sv,
     {"f:7:8: there is no place \"hal\"; expected hall, porch or loft (did you mean \"hall\"?)"}},
    {"APlaceListedTwice",
     "[hall, porch, loft]"sv,
     "[hall, porch, hall]"sv,
     {"f:8:23: the place \"hall\" is listed twice; expected it once"}},
    {"NoPlaces",
     "[hall, porch, loft]"sv,
     "[]"sv,
     {"f:7:8: there is no place \"hall\"", "f:8:9: no places; expected at least one",
      "f:10:16: there is no place \"hall\"", "f:10:22: there is no place \"porch\"",
      "f:12:3: there is no place \"porch\"", "f:20:3: there is no place \"hall\"",
      "f:23:55: there is no place \"porch\"", "f:60:52: there is no place \"hall\""}},
    {"NoWayBetweenTwoPlaces",
     "{between: [hall, porch], minutes: .3}"sv,
     "{between: [hall, loft], minutes: .3}"sv,
     {"f:10:3: no way between \"hall\" and \"porch\"; expected under walking: {between: [one, "
      "another], minutes: ...}"}},
    {"NoWalkingAtAll",
     "walking:\n  - {between: [hall, porch], minutes: .3}\n"sv,
     ""sv,
     {"f:8:16: no way between \"hall\" and \"porch\"; expected under walking: {between: [one, "
      "another], minutes: ...}"}},
    {"AWayTwice",
     "  - {between: [hall, porch], minutes: .3}"sv,
     "  - {between: [hall, porch], minutes: .3}\n  - {between: [porch, hall], minutes: .4}"sv,
     {"f:11:15: this way is there already; expected each pair of places once"}},
    {"AWayToTheSamePlace",
     "  - {between: [hall, porch], minutes: .3}"sv,
     "  - {between: [hall, porch], minutes: .3}\n  - {between: [loft, loft], minutes: .4}"sv,
     {"f:11:15: a way from a place to itself; expected two different places"}},
    {"AWayBetweenThreePlaces",
     "{between: [hall, porch]"sv,
     "{between: [hall, porch, loft]"sv,
     {"f:10:15: these are not two places; expected two places: [one, another]"}},
    {"AWayThatTakesNegativeTime",
     "minutes: .3"sv,
     "minutes: -.3"sv,
     {"f:10:39: \"-.3\" is out of range; expected minutes, from 0 to 100000"}},
    {"AnUnknownStateOfASpare",
     "state: new"sv,
     "state: knew"sv,
     {"f:60:40: there is no spare state \"knew\"; expected new (did you mean \"new\"?)"}},
    {"ASpareInAnUnknownPlace",
     "place: hall}"sv,
     "place: cellar}"sv,
     {"f:60:52: there is no place \"cellar\"; expected hall, porch or loft"}},
    {"RulesInAnotherFolder",
     "rules: doorbell"sv,
     "rules: ../doorbell"sv,
     {"f:4:8: \"../doorbell\" is no name of rules; expected a name without slashes that does not "
      "begin with a full stop"}},
    {"HiddenRules",
     "rules: doorbell"sv,
     "rules: .doorbell"sv,
     {"f:4:8: \".doorbell\" is no name of rules; expected a name without slashes that does not "
      "begin with a full stop"}},
    {"RulesAreMissing",
     "rules: doorbell\n"sv,
     ""sv,
     {"f:2:1: the key \"rules\" is missing; expected the name of the rules: NAME for NAME.yaml"}},
    {"NumbersWithoutASource",
     "source: invented for the demo\n"sv,
     ""sv,
     {"f:5:9: the number \"1\" has no source; expected a key `source` in this mapping or in one "
      "around it",
      "f:9:39: the number \".3\" has no source; expected a key `source` in this mapping or in one "
      "around it"}},
    {"OwnPricesWithoutOne",
     "spares:"sv,
     "prices: {miss minutes: 90}\nspares:"sv,
     {"f:59:9: the key \"service minutes\" is missing; expected minutes, from 0 to 100000"}},
    {"NoRoutes",
     "routes:\n"sv,
     "routes: {}\nrouts:\n"sv,
     {"f:44:9: no routes; expected at least one",
      "f:45:1: unknown key \"routs\"; expected installation, about, rules, people, places, start, "
      "parts, spares or one of 9 more (did you mean \"routes\"?)"}},
};

class BadChain : public ::testing::TestWithParam<Slip> {};

TEST_P(BadChain, BringsExactlyTheseComplaints) {
  const Slip& slip = GetParam();
  const std::string text = edited(good("two-doors.yaml"), slip.from, slip.to);
  ASSERT_FALSE(text.empty());
  EXPECT_EQ(lines(installation_from(text, "f", rules_from(good("doorbell.yaml"), "rules").value())),
            slip.lines);
}

INSTANTIATE_TEST_SUITE_P(Each, BadChain, ::testing::ValuesIn(kBadChain), claim_of);

}  // namespace
}  // namespace whichlink::load
