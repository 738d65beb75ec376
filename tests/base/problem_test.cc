#include "base/problem.h"

#include <gtest/gtest.h>

namespace whichlink {
namespace {

TEST(Problems, ALineHasPlaceComplaintExpectationAndHint) {
  EXPECT_EQ(to_line({{"room.yaml", 4, 7}, "unknown part \"crod\"", "a part", "cord"}),
            "room.yaml:4:7: unknown part \"crod\"; expected a part (did you mean \"cord\"?)");
}

TEST(Problems, WhatIsNotKnownIsLeftOut) {
  EXPECT_EQ(to_line({{"room.yaml", 0, 0}, "cannot be read", "", ""}), "room.yaml: cannot be read");
  EXPECT_EQ(to_line({{"", 0, 0}, "empty", "", ""}), "empty");
}

TEST(Problems, ALineStaysALineWhateverTheFileHeld) {
  EXPECT_EQ(to_line({{"a\nb", 1, 1}, "tab\there\r\x1b[2J\x7f", "", ""}), "a?b:1:1: tab?here??[2J?");
}

// A terminal may take C1 for the start of a command; the others are no UTF-8 at all.
TEST(Problems, NoControlOfAnyKindAndNoBrokenTextGetThrough) {
  const auto shown = [](const std::string& what) { return to_line({{"", 0, 0}, what, "", ""}); };
  EXPECT_EQ(shown("a\xC2\x91z\xC2\x9B"), "a?z?");  // C1
  EXPECT_EQ(shown("\xE0\x80\x80z"), "???z");       // too long a form
  EXPECT_EQ(shown("\xED\xA0\x80z"), "???z");       // half of a pair
  EXPECT_EQ(shown("\xF4\x90\x80\x80z"), "????z");  // above U+10FFFF
  EXPECT_EQ(shown("\xC2\xA0\xF4\x8F\xBF\xBF"), "\xC2\xA0\xF4\x8F\xBF\xBF");
}

TEST(Problems, TextBeyondAsciiIsShownAsItIs) {
  EXPECT_EQ(to_line({{"", 0, 0}, "H\xC3\xB6rer", "", ""}), "H\xC3\xB6rer");
}

TEST(Nearest, ASwapOfNeighboursIsOneSlip) {
  EXPECT_EQ(nearest("haedset cord", {"patch cord", "headset cord"}), "headset cord");
  EXPECT_EQ(nearest("abc", {"acb"}), "acb");  // one edit of three; as two it would be too far
}

TEST(Nearest, InsertedDroppedAndWrongLettersAreSlips) {
  EXPECT_EQ(nearest("cordd", {"cord"}), "cord");
  EXPECT_EQ(nearest("crd", {"cord"}), "cord");
  EXPECT_EQ(nearest("cort", {"cord"}), "cord");
}

TEST(Nearest, TiesGoToTheFirst) {
  EXPECT_EQ(nearest("cat", {"car", "cut"}), "car");
  EXPECT_EQ(nearest("cat", {"cut", "car"}), "cut");
}

TEST(Nearest, TheFewestEditsWinWhateverTheOrder) {
  EXPECT_EQ(nearest("left plug", {"left jug", "left plugs"}), "left plugs");
}

TEST(Nearest, WhatIsTooFarIsNotOffered) {
  EXPECT_EQ(nearest("xyz", {"cord"}), "");
  EXPECT_EQ(nearest("abcd", {"abxy"}), "");  // two edits, one allowed
  EXPECT_EQ(nearest("", {"a"}), "");
  EXPECT_EQ(nearest("cord", {}), "");
  EXPECT_EQ(nearest(std::string(5000, 'a'), {std::string(5000, 'a')}), "");
}

TEST(OneOf, NamesAreListedAsInSpeech) {
  EXPECT_EQ(one_of({}), "nothing");
  EXPECT_EQ(one_of({"a"}), "a");
  EXPECT_EQ(one_of({"a", "b"}), "a or b");
  EXPECT_EQ(one_of({"a", "b", "c"}), "a, b or c");
}

TEST(OneOf, NoMoreThanEightNamesAreListed) {
  EXPECT_EQ(one_of({"1", "2", "3", "4", "5", "6", "7", "8"}), "1, 2, 3, 4, 5, 6, 7 or 8");
  EXPECT_EQ(one_of({"1", "2", "3", "4", "5", "6", "7", "8", "9"}), "1, 2, 3, 4, 5, 6, 7, 8 or 9");
  EXPECT_EQ(one_of({"1", "2", "3", "4", "5", "6", "7", "8", "9", "10"}),
            "1, 2, 3, 4, 5, 6, 7, 8 or one of 2 more");
}

}  // namespace
}  // namespace whichlink
