// Raiffa's oil wildcatter in the form of the Bayes-net literature (seen): a test of 10 before the
// decision to drill is worth it; the greatest expected gain is 22.5; without the test 20, so a test
// is worth at most 12.5, where both are equal.

#include <gtest/gtest.h>

#include "search/support.h"

namespace whichlink::search {
namespace {

// Gains become costs below this, so that no cost is negative.
constexpr double kMost = 200;

Process field(double test_minutes) {
  Builder builder({.5, .3, .2});  // dry, wet, soaking
  builder.look(test_minutes, {{.1, .3, .6}, {.3, .4, .3}, {.5, .4, .1}});
  builder.ending({kMost + 70, kMost - 50, kMost - 200});  // drill
  builder.ending({kMost, kMost, kMost});                  // do not
  return builder.process();
}

TEST(OilWildcatter, TestsFirstAndGains22AndAHalf) {
  const Answer answer = solved(field(10), 1e-9, kPlenty);
  EXPECT_NEAR(kMost - answer.upper, 22.5, 1e-6);
  EXPECT_NEAR(kMost - answer.lower, 22.5, 1e-6);
  EXPECT_EQ(answer.choice, 0U);
}

TEST(OilWildcatter, IsIndifferentWhereTheTestCostsWhatItIsWorth) {
  EXPECT_NEAR(kMost - solved(field(12.5), 1e-9, kPlenty).upper, 20, 1e-6);
  EXPECT_NE(solved(field(12.6), 1e-9, kPlenty).choice, 0U);
  EXPECT_EQ(solved(field(12.4), 1e-9, kPlenty).choice, 0U);
}

}  // namespace
}  // namespace whichlink::search
