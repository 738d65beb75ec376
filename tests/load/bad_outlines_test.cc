#include "load/load.h"
#include "support.h"

namespace whichlink::load {
namespace {

std::string stage() {
  std::ifstream stream(std::string(WHICHLINK_SOURCE_DIR) + "/rules/stage-sound.yaml");
  return {std::istreambuf_iterator<char>(stream), {}};
}

/// The complaint without its line and column, which move with the rates above.
std::string without_place(const std::string& line) {
  std::size_t at = 0;
  for (int colons = 0; colons < 3; ++colons) at = line.find(':', at) + 1;
  return line.substr(at + 1);
}

class BadOutline : public ::testing::TestWithParam<Slip> {};

TEST_P(BadOutline, BringsTheseComplaints) {
  const std::string text = edited(stage(), GetParam().from, GetParam().to);
  ASSERT_FALSE(text.empty()) << "the slip's text is not there just once";
  std::vector<std::string> found;
  for (const std::string& line : lines(rules_from(text, "r"))) found.push_back(without_place(line));
  EXPECT_EQ(found, GetParam().lines);
}

INSTANTIATE_TEST_SUITE_P(
    Load, BadOutline,
    ::testing::Values(
        Slip{"JackInJack",
             "- {plugged: left vocal cord, in: plug end, out: socket end}",
             "- {plugged: left vocal cord, in: socket end, out: plug end}",
             {"\"box\" and \"left vocal cord\" cannot be plugged together; expected a plug and a "
              "jack that it fits",
              "\"left vocal cord\" and \"left vocal microphone\" cannot be plugged together; "
              "expected a plug and a jack that it fits"}},
        Slip{"PlugJoinedForGood",
             "- {plugged: left vocal microphone, in: pins, out: capsule}",
             "- {fixed: left vocal microphone, in: pins, out: capsule}",
             {"a plug between \"left vocal cord\" and \"left vocal microphone\" that is joined for "
              "good; expected plugged"}},
        Slip{"NoSource",
             "- {from: channel one}\n            - {fixed: input one}",
             "- {from: input one}",
             {"no signal starts here; expected a part whose class has `role: source`"}},
        Slip{"NoEnd",
             "- {plugged: left vocal microphone, in: pins, out: capsule}",
             "- {plugged: left vocal microphone, in: pins}",
             {"a way that ends here, where no signal comes out; expected a part whose class has "
              "`role: end`"}},
        Slip{"NoSuchPiece",
             "- {plugged: left vocal microphone, in: pins, out: capsule}",
             "- {plugged: left vocal microphone, in: pins, out: coil}",
             {"\"vocal microphone\" has no single way at \"coil\"; expected `in` and `out`: a "
              "piece, or a lane of it"}},
        Slip{"NoSuchPart",
             "- {fixed: input three}",
             "- {fixed: input tree}",
             {"there is no part \"input tree\"; expected left vocal microphone, right vocal "
              "microphone, left overhead, right overhead, left vocal cord, right vocal cord, left "
              "overhead cord, right overhead cord or one of 9 more (did you mean \"input "
              "three\"?)"}},
        Slip{"NoJoint",
             "- {fixed: input three}",
             "- {out: input}",
             {"a step without its joint; expected fixed, switched or plugged: a part"}},
        Slip{"NoSuchWay",
             "out: socket three, only: [stage box]}",
             "out: socket three, only: [stagebox]}",
             {"there is no way \"stagebox\"; expected stage box or straight (did you mean \"stage "
              "box\"?)"}},
        Slip{"PairOfAnother",
             "side: left\n          pair: right drums",
             "side: left\n          pair: right vocal",
             {"\"left drums\" is no partner of \"right drums\"; expected another route of the same "
              "kind that says `pair: right drums`",
              "\"right vocal\" is no partner of \"left drums\"; expected another route of the same "
              "kind that says `pair: left drums`"}},
        Slip{"WalkOutOfRange",
             "walking minutes: .5, source: judged}",
             "walking minutes: -.5, source: judged}",
             {"\"-.5\" is out of range; expected minutes, from 0 to 100000"}},
        Slip{"TwoPlacesOfOneName",
             "words: \"where the desk stands\", name: desk}",
             "words: \"where the desk stands\", name: stage}",
             {"two places are called \"stage\"; expected a name for each"}},
        Slip{"ApartWithoutApart",
             "  apart: {words: \"the desk stands away from the stage\", walking minutes: .5, "
             "source: judged}\n",
             "",
             {"usually apart, and nothing says how far; expected apart: {words: ..., walking "
              "minutes: ...}"}},
        Slip{"PieceElsewhereThatIsNone",
             "{tail one: desk, tail two: desk, tail three: desk, tail four: desk}",
             "{tail five: desk}",
             {"\"stage box\" has no piece \"tail five\"; expected one of its pieces"}},
        Slip{"ThreePeople",
             "  people: 2\n",
             "  people: 3\n",
             {"\"3\" is out of range; expected 1 or 2"}},
        Slip{"OneAndAHalfPeople",
             "  people: 2\n",
             "  people: 1.5\n",
             {"\"1.5\" is no whole number; expected 1 or 2"}}),
    claim_of);

TEST(Load, APartWithoutPiecesOnAnOutlineIsComplainedOf) {
  const std::string text =
      edited(stage(), "    pieces:\n      capsule: dynamic capsule\n      pins: plug\n",
             "    pieces: {}\n");
  ASSERT_FALSE(text.empty());
  const auto rules = rules_from(text, "r");
  ASSERT_FALSE(rules);
  EXPECT_EQ(rules.error().front().what, "no pieces");
}

TEST(Load, ATradeMayHaveNoOutlines) {
  const std::string text = stage();
  const std::size_t at = text.find("\noutlines:");
  ASSERT_NE(at, std::string::npos);
  const auto rules = rules_from(text.substr(0, at + 1), "r");
  ASSERT_TRUE(rules);
  EXPECT_FALSE(rules->outlines);
}

}  // namespace
}  // namespace whichlink::load
