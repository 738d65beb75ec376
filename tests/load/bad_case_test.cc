#include <gtest/gtest.h>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using namespace std::string_view_literals;

// Cases.
const Slip kBadCase[] = {
    {"NoComplaint",
     "complaint: {route: left door, heard: silent, days since pass: 7}\n"sv,
     ""sv,
     {"f:1:1: the key \"complaint\" is missing; expected {route: ..., heard: ...}"}},
    {"NoRoute",
     "route: left door, "sv,
     ""sv,
     {"f:3:12: the key \"route\" is missing; expected the name of a route"}},
    {"NothingHeard",
     ", heard: rings"sv,
     ""sv,
     {"f:5:5: the key \"heard\" is missing; expected a symptom, `not sure` or `cannot do`"}},
    {"NoMove",
     "move: clean left cord.near plug, "sv,
     ""sv,
     {"f:7:5: the key \"move\" is missing; expected the name of a move"}},
    {"ADropOfNothing",
     "drop db: 30"sv,
     "drop db: 0"sv,
     {"f:6:56: \"0\" is out of range; expected dB above 0, at most 120"}},
    {"ADropTooDeep",
     "drop db: 30"sv,
     "drop db: 121"sv,
     {"f:6:56: \"121\" is out of range; expected dB above 0, at most 120"}},
    {"DaysBelowZero",
     "days since pass: 7"sv,
     "days since pass: -1"sv,
     {"f:3:63: \"-1\" is out of range; expected days, from 0 to 36500"}},
    {"DaysBeyondACentury",
     "days since pass: 7"sv,
     "days since pass: 1e6"sv,
     {"f:3:63: \"1e6\" is out of range; expected days, from 0 to 36500"}},
    {"DoneIsNoList",
     "done:\n"sv,
     "done: {}\nmore:\n"sv,
     {"f:4:7: a mapping; expected a list: [one, another]",
      "f:5:1: unknown key \"more\"; expected model, listener, aim, complaint or done"}},
    {"AnUnknownAim",
     "listener: practised"sv,
     "aim: splt"sv,
     {"f:2:6: unknown aim \"splt\"; expected time, split or moves (did you mean \"split\"?)"}},
    {"AnUnknownKey",
     "model: two-doors"sv,
     "modle: two-doors"sv,
     {"f:1:1: unknown key \"modle\"; expected model, listener, aim, complaint or done (did you "
      "mean "
      "\"model\"?)"}},
};

class BadCase : public ::testing::TestWithParam<Slip> {};

TEST_P(BadCase, BringsExactlyTheseComplaints) {
  const Slip& slip = GetParam();
  const std::string text = edited(good("heard.yaml"), slip.from, slip.to);
  ASSERT_FALSE(text.empty());
  EXPECT_EQ(lines(case_from(text, "f")), slip.lines);
}

INSTANTIATE_TEST_SUITE_P(Each, BadCase, ::testing::ValuesIn(kBadCase), claim_of);

}  // namespace
}  // namespace whichlink::load
