#include <gtest/gtest.h>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using namespace std::string_view_literals;

// Stresses, remedies, classes and modes.
const Slip kBadClass[] = {
    {"AFalseAlarmOfNothing",
     "{faint: .02}"sv,
     "{rings: .02}"sv,
     {"f:43:19: \"rings\" is no alarm: it means nothing wrong; expected worse symptoms only; the "
      "rest is this one"}},
    {"AFalseAlarmOfAnotherSense",
     "{faint: .02}"sv,
     "{open: .02}"sv,
     {"f:43:19: there is no symptom in the first sense called \"open\"; expected rings, faint, "
      "fainter or silent"}},
    {"FalseAlarmsAboveOne",
     "{faint: .02}"sv,
     "{faint: .7, silent: .5}"sv,
     {"f:43:18: the false alarms add up to more than 1; expected at most 1"}},
    {"AStressCalledReplug",
     "  press: {short"sv,
     "  replug: {short"sv,
     {"f:46:3: `replug` is known already: a plug pulled and pushed in; expected another name for a "
      "stress",
      "f:65:16: there is no stress \"press\"; expected flex or replug",
      "f:76:23: there is no stress \"press\"; expected flex or replug",
      "f:77:39: there is no stress \"press\"; expected flex or replug"}},
    {"BracesAroundAnotherWord",
     "short: flex {it}"sv,
     "short: flex {its}"sv,
     {"f:40:12: braces that hold something other than `it`; expected {it} or no braces"}},
    {"AnUnknownCaution",
     "always: [low voltage]"sv,
     "always: [low votlage]"sv,
     {"f:8:10: there is no caution \"low votlage\"; expected low voltage or label it (did you mean "
      "\"low voltage\"?)"}},
    {"ACautionListedTwice",
     "always: [low voltage]"sv,
     "always: [low voltage, low voltage]"sv,
     {"f:8:23: \"low voltage\" is listed twice; expected it once"}},
    {"AConnectorListedTwice",
     "[barrel, spade]"sv,
     "[barrel, spade, barrel]"sv,
     {"f:10:29: \"barrel\" is listed twice; expected it once"}},
    {"AnUnknownRole",
     "role: end"sv,
     "role: sink"sv,
     {"f:97:29: there is no role \"sink\"; expected link, source, end, plug or jack (did you mean "
      "\"link\"?)"}},
    {"APlugWithoutAConnector",
     "{words: plug, role: plug, connector: barrel}"sv,
     "{words: plug, role: plug}"sv,
     {"f:94:3: a plug or jack without a connector; expected barrel or spade"}},
    {"AConnectorThatIsNotListed",
     "{words: plug, role: plug, connector: barrel}"sv,
     "{words: plug, role: plug, connector: barrels}"sv,
     {"f:94:53: there is no connector \"barrels\"; expected barrel or spade (did you mean "
      "\"barrel\"?)"}},
    {"AConnectorOfABell",
     "role: end"sv,
     "role: end, connector: spade"sv,
     {"f:97:45: a connector of something that is neither plug nor jack; expected `role: plug` or "
      "`role: jack`, or no connector"}},
    {"LimitsOfARateOutOfOrder",
     "rate: {low: .1, mid: .3, high: .8}"sv,
     "rate: {low: .1, mid: .9, high: .8}"sv,
     {"f:70:15: the limits of a rate are out of order; expected low <= mid <= high"}},
    {"ARateBelowZero",
     "rate: {low: .1, mid: .3, high: .8}"sv,
     "rate: {low: -.1, mid: .3, high: .8}"sv,
     {"f:70:21: \"-.1\" is out of range; expected a rate per year, from 0 to 1000"}},
    {"ARateWithoutItsMiddle",
     "rate: {low: .1, mid: .3, high: .8}"sv,
     "rate: {low: .1, high: .8}"sv,
     {"f:70:15: the key \"mid\" is missing; expected a rate per year, from 0 to 1000"}},
    {"SymptomChancesBelowOne",
     "{silent: .6, faint: .25, rings: .15}"sv,
     "{silent: .6, faint: .25}"sv,
     {"f:74:11: the chances add up to 0.85; expected 1"}},
    {"SymptomChancesAboveOne",
     "{silent: .6, faint: .25, rings: .15}"sv,
     "{silent: .6, faint: .25, rings: .2}"sv,
     {"f:74:11: the chances add up to 1.05; expected 1"}},
    {"ASymptomOfAnotherSense",
     "{silent: .6, faint: .25, rings: .15}"sv,
     "{silent: .6, faint: .25, sound: .15}"sv,
     {"f:74:41: there is no symptom \"sound\"; expected rings, faint, fainter or silent"}},
    {"AnUnknownSense",
     "          meter: {sound: .3, open: .7}"sv,
     "          metre: {sound: .3, open: .7}"sv,
     {"f:75:11: there is no sense \"metre\"; expected ear or meter (did you mean \"meter\"?)"}},
    {"AModeWithoutSymptoms",
     "symptoms: {meter: {open: 1}}"sv,
     "symptoms: {}"sv,
     {"f:92:19: no symptoms; expected the chances of its symptoms in at least one sense"}},
    {"AnUnknownReach",
     "reach: whole"sv,
     "reach: hole"sv,
     {"f:91:16: there is no reach \"hole\"; expected lane or whole (did you mean \"whole\"?)"}},
    {"AnUnknownStressOfAClass",
     "stresses: [press]"sv,
     "stresses: [pres]"sv,
     {"f:65:16: there is no stress \"pres\"; expected flex or press (did you mean \"press\"?)"}},
    {"AnUnknownStressProvokes",
     "provoked by: {press: .8}"sv,
     "provoked by: {pull: .8}"sv,
     {"f:76:23: there is no stress \"pull\"; expected flex or press"}},
    {"AnUnknownStressCures",
     "{replug: .3, press: .0}"sv,
     "{replugs: .3, press: .0}"sv,
     {"f:77:27: there is no stress \"replugs\"; expected flex or press"}},
    {"AnUnknownRemedy",
     "remedies: {clean: .7}"sv,
     "remedies: {claen: .7}"sv,
     {"f:79:20: there is no remedy \"claen\"; expected clean or rewire (did you mean \"clean\"?)"}},
    {"AnUnknownPersistence",
     "stays: {left alone: .95"sv,
     "stays: {alone: .95"sv,
     {"f:72:17: unknown key \"alone\"; expected left alone or disturbed"}},
};

class BadClass : public ::testing::TestWithParam<Slip> {};

TEST_P(BadClass, BringsExactlyTheseComplaints) {
  const Slip& slip = GetParam();
  const std::string text = edited(good("doorbell.yaml"), slip.from, slip.to);
  ASSERT_FALSE(text.empty());
  EXPECT_EQ(lines(rules_from(text, "f")), slip.lines);
}

INSTANTIATE_TEST_SUITE_P(Each, BadClass, ::testing::ValuesIn(kBadClass), claim_of);

}  // namespace
}  // namespace whichlink::load
