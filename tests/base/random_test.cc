#include "base/random.h"

#include <gtest/gtest.h>

#include <random>

namespace whichlink {
namespace {

// [rand.predef] of the C++ standard says what the 10,000th number is.
TEST(RandomNumbers, AreThoseOfTheStandard) {
  Random random(std::mt19937_64::default_seed);
  double last = 0;
  for (int number = 0; number < 10'000; ++number) last = random.uniform();
  EXPECT_EQ(last, static_cast<double>(9981545732273789042U >> 11U) * 0x1.0p-53);
}

// The standard library's engine, for seeds as trials have them.
TEST(RandomNumbers, AreThoseOfTheStandardLibrary) {
  for (const std::uint64_t seed :
       {std::uint64_t{0}, std::uint64_t{1}, std::uint64_t{1'000'003}, std::uint64_t{1} << 63U}) {
    Random random(seed);
    std::mt19937_64 standard(seed);
    for (int number = 0; number < 2'000; ++number) {
      ASSERT_EQ(random.uniform(), static_cast<double>(standard() >> 11U) * 0x1.0p-53) << seed;
    }
  }
}

}  // namespace
}  // namespace whichlink
