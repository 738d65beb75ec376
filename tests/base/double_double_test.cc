#include "base/double_double.h"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.h"

namespace whichlink {
namespace {

constexpr double kLastDigit = 0x1p-104;  // relative, of a product or quotient of double-doubles

/// Size of the difference, relative to the first.
double difference(const DoubleDouble& a, const DoubleDouble& b) {
  return std::abs(to_double(a - b)) / std::abs(to_double(a));
}

DoubleDouble random_number(Random& random) {
  const double high = random.uniform() + .5;
  return DoubleDouble(high) + DoubleDouble(0x1p-54 * random.uniform());
}

TEST(DoubleDouble, SumOfTwoDoublesIsExact) {
  const DoubleDouble total = DoubleDouble::sum(1, 0x1p-80);
  EXPECT_EQ(total.high(), 1);
  EXPECT_EQ(total.low(), 0x1p-80);
  EXPECT_EQ(to_double(total - DoubleDouble(1)), 0x1p-80);
}

TEST(DoubleDouble, ProductOfTwoDoublesEqualsTheFusedOne) {
  Random random(1);
  for (int draw = 0; draw < 100'000; ++draw) {
    const double a = random.uniform() - .5;
    const double b = random.uniform() * 1e-9;
    const DoubleDouble product = DoubleDouble::product(a, b);
    ASSERT_EQ(product.high(), a * b);
    ASSERT_EQ(product.low(), std::fma(a, b, -(a * b))) << a << " " << b;
  }
}

TEST(DoubleDouble, QuotientTimesDivisorIsTheDividend) {
  Random random(2);
  for (int draw = 0; draw < 100'000; ++draw) {
    const DoubleDouble a = random_number(random);
    const DoubleDouble b = random_number(random);
    ASSERT_LE(difference(a, a / b * b), 4 * kLastDigit);
  }
}

TEST(DoubleDouble, ProductsAreAssociativeAndDistributeUpToTheLastDigits) {
  Random random(3);
  for (int draw = 0; draw < 100'000; ++draw) {
    const DoubleDouble a = random_number(random);
    const DoubleDouble b = random_number(random);
    const DoubleDouble c = random_number(random);
    ASSERT_LE(difference((a * b) * c, a * (b * c)), 8 * kLastDigit);
    ASSERT_LE(difference(a * (b + c), a * b + a * c), 8 * kLastDigit);
  }
}

// 1/3 + ... is not a double; thirty digits of cancellation show whether the low part is right.
TEST(DoubleDouble, KeepsThirtyDigitsThroughASumThatCancels) {
  const DoubleDouble third = DoubleDouble(1) / DoubleDouble(3);
  const DoubleDouble rest = third + third + third - DoubleDouble(1);
  EXPECT_LE(std::abs(to_double(rest)), kLastDigit);
  // (1 + e)^2 - 1 - 2 e = e^2, and e^2 is far below what a double could keep beside 1.
  const double e = 0x1p-50;
  const DoubleDouble one_and_e = DoubleDouble(1) + DoubleDouble(e);
  EXPECT_EQ(to_double(one_and_e * one_and_e - DoubleDouble(1) - DoubleDouble(2 * e)), 0x1p-100);
}

TEST(DoubleDouble, ScalingByAPowerOfTwoIsExact) {
  Random random(4);
  const DoubleDouble a = random_number(random);
  EXPECT_EQ(scaled(scaled(a, -200), 200), a);
  EXPECT_EQ(scaled(1.5, 3), 12);
}

}  // namespace
}  // namespace whichlink
