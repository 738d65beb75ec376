#include "routine/levels.h"

#include <gtest/gtest.h>

#include "moves/support.h"

namespace whichlink::routine {
namespace {

class Levels : public ::testing::Test {
 protected:
  Level level(const std::string& name, double hz, double db, const std::string& set = "") const {
    const auto found = level_of(booth.setting, booth.route(name), set, hz, db, {});
    if (!found) ADD_FAILURE() << to_line(found.error().front());
    return found.value_or(Level{});
  }
  std::string problem(const std::string& name, double hz, double db, const std::string& set) const {
    const auto found = level_of(booth.setting, booth.route(name), set, hz, db, {});
    return found ? "" : to_line(found.error().front());
  }

  const moves::Shop booth{"two-room-booth"};
};

// 70 on the dial and 7.0 dB of reference at 1000 Hz; 40 and 42.5 for bone.
TEST_F(Levels, TheReadingExpectedIsDialPlusReference) {
  const Level phone = level("left phone", 1000, 77.5);
  EXPECT_EQ(phone.expected_db, 77);
  EXPECT_NEAR(phone.deviation_db, .5, 1e-12);
  EXPECT_EQ(phone.within_db, 3);
  EXPECT_TRUE(phone.passed);
  EXPECT_EQ(phone.drop_db, std::nullopt);
  EXPECT_EQ(level("bone", 1000, 82).expected_db, 82.5);
  EXPECT_EQ(level("bone", 4000, 75).within_db, 4);
}

TEST_F(Levels, TheLimitItselfPassesAndATenthMoreDoesNot) {
  EXPECT_TRUE(level("left phone", 1000, 74).passed);
  EXPECT_TRUE(level("left phone", 1000, 80).passed);
  const Level low = level("left phone", 1000, 73.9);
  EXPECT_FALSE(low.passed);
  EXPECT_NEAR(*low.drop_db, 3.1, 1e-9);
  const Level loud = level("left phone", 1000, 90);
  EXPECT_FALSE(loud.passed);
  EXPECT_EQ(loud.drop_db, 13) << "too loud is off as much as too faint";
}

TEST_F(Levels, EachFrequencyHasTheLimitOfItsBand) {
  EXPECT_EQ(level("left phone", 4000, 79).within_db, 3);
  EXPECT_EQ(level("left phone", 6000, 85).within_db, 5);
}

TEST_F(Levels, AnotherCouplerIsAnotherReference) {
  EXPECT_EQ(level("left phone", 250, 95).expected_db, 95.5);
  EXPECT_EQ(level("left phone", 250, 95, "supra-aural on ear simulator").expected_db, 97);
}

TEST_F(Levels, WhatIsNotThereIsSaid) {
  EXPECT_EQ(problem("left phone", 440, 70, ""),
            "no reference level at 440 Hz; expected 125, 250, 500, 750, 1000, 1500, 2000, 3000 or "
            "one of 3 more");
  EXPECT_EQ(problem("bone", 1000, 70, "bone on mastiod"),
            "no reference levels \"bone on mastiod\" for bone; expected bone on mastoid (did you "
            "mean \"bone on mastoid\"?)");
  EXPECT_EQ(problem("button", 1000, 70, ""), "no reference levels for button; expected a symptom");
}

// The figures of the rules against those of the standards' table as kept by hand here.
TEST_F(Levels, TheDifferenceBetweenTwoCouplersOfInsertsIsKept) {
  for (const auto& [hz, difference] : std::vector<std::pair<double, double>>{
           {125, 2}, {250, 3.5}, {1000, 5.5}, {4000, 9.5}, {8000, 15.5}}) {
    EXPECT_NEAR(level("left insert", hz, 80, "insert in ear simulator").expected_db -
                    level("left insert", hz, 80, "insert in 2 cm3 coupler").expected_db,
                difference, 1e-9);
  }
}

}  // namespace
}  // namespace whichlink::routine
