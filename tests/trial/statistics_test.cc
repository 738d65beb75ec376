// Estimates against published intervals and worked sums.

#include <gtest/gtest.h>

#include "trial/trial.h"

namespace whichlink::trial {
namespace {

// Wilson's interval, 95 %: 0 of 10 and 5 of 10 (standard worked values, from memory: .000 to .278
// and .237 to .763); 81 of 263: .255 to .366 (R. Newcombe, Statistics in Medicine 17, 1998, table
// I, from memory: .2553 to .3662).
TEST(Estimates, SharesHaveWilsonsInterval) {
  const Estimate none = share_of(0, 10);
  EXPECT_NEAR(none.low, 0, 1e-12);
  EXPECT_NEAR(none.high, .2775, 5e-5);
  const Estimate half = share_of(5, 10);
  EXPECT_NEAR(half.low, .2366, 5e-5);
  EXPECT_NEAR(half.high, .7634, 5e-5);
  const Estimate newcombe = share_of(81, 263);
  EXPECT_NEAR(newcombe.value, .3080, 5e-5);
  EXPECT_NEAR(newcombe.low, .2553, 5e-5);
  EXPECT_NEAR(newcombe.high, .3662, 5e-5);
}

// 1, 2, 3, 4: mean 2.5, standard deviation sqrt(5/3), standard error .6455 (by hand).
TEST(Estimates, MeansHaveTheirStandardError) {
  const Estimate mean = mean_of({1, 2, 3, 4});
  EXPECT_NEAR(mean.value, 2.5, 1e-12);
  EXPECT_NEAR(mean.high - mean.value, 1.959964 * .6454972, 1e-6);
  EXPECT_NEAR(mean.value - mean.low, 1.959964 * .6454972, 1e-6);
}

// Of 100 values in order, the median's interval of 95 % runs from the 40th to the 61st (W. Conover,
// Practical Nonparametric Statistics, table of order statistics, from memory).
TEST(Estimates, QuantilesLieBetweenOrderStatistics) {
  std::vector<double> values;
  for (int value = 100; value >= 1; --value) values.push_back(value);
  const Estimate median = quantile_of(values, .5);
  EXPECT_EQ(median.value, 50);
  EXPECT_EQ(median.low, 40);
  EXPECT_EQ(median.high, 61);
  EXPECT_EQ(quantile_of(values, .95).value, 95);
}

TEST(Estimates, OfNothingAreZero) {
  EXPECT_EQ(mean_of({}).value, 0);
  EXPECT_EQ(quantile_of({}, .5).value, 0);
  EXPECT_EQ(share_of(0, 0).high, 0);
}

}  // namespace
}  // namespace whichlink::trial
