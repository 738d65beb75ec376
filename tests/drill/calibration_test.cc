#include <gtest/gtest.h>

#include <algorithm>

#include "base/random.h"
#include "drill/claim.h"

namespace whichlink::drill {
namespace {

// The ten forecasts of rain worked through in Brier 1950 (from memory): his P counts rain and no
// rain, and is .19.
TEST(Calibration, GivesBriersOwnExample) {
  const std::vector<double> sure = {.7, .9, .8, .4, .2, 0, 0, 0, 0, .1};
  const std::vector<bool> rain = {false, true,  true,  true,  false,
                                  false, false, false, false, false};
  std::vector<Said> said;
  for (std::size_t day = 0; day < sure.size(); ++day) said.push_back({sure[day], rain[day]});
  EXPECT_NEAR(2 * calibration_of(said).brier, .19, .005);
}

// The second way: Murphy's parts add up to the score, whatever was said.
TEST(Calibration, ThePartsAddUpToTheScore) {
  Random random(5);
  for (int round = 0; round < 50; ++round) {
    std::vector<Said> said;
    const std::uint32_t count = 1 + random.below(60);
    for (std::uint32_t one = 0; one < count; ++one) {
      const double sure = random.below(11) / 10.0;
      said.push_back({sure, random.chance(.3 + .4 * sure)});
    }
    const Calibration sum = calibration_of(said);
    EXPECT_NEAR(sum.brier, sum.reliability - sum.resolution + sum.uncertainty, 1e-12);
    EXPECT_GE(sum.reliability, 0);
    EXPECT_GE(sum.resolution, 0);
    std::size_t in_bins = 0;
    std::size_t right = 0;
    for (const Calibration::Bin& bin : sum.bins) {
      in_bins += bin.claims;
      right += bin.right;
      if (bin.claims == 0) continue;
      EXPECT_GE(bin.said, bin.low - 1e-12);
      EXPECT_LE(bin.said, bin.high + 1e-12);
    }
    EXPECT_EQ(in_bins, said.size());
    EXPECT_EQ(right, static_cast<std::size_t>(std::count_if(
                         said.begin(), said.end(), [](const Said& one) { return one.is_true; })));
  }
}

TEST(Calibration, CertainAndRightIsNoughtAndCertainAndWrongIsOne) {
  EXPECT_EQ(calibration_of({{1, true}, {0, false}}).brier, 0);
  EXPECT_EQ(calibration_of({{1, false}, {0, true}}).brier, 1);
  EXPECT_EQ(calibration_of({}).claims, 0U);
  // A fair forecaster of a coin, by hand: half of .25 and half of .25.
  EXPECT_DOUBLE_EQ(calibration_of({{.5, true}, {.5, false}}).brier, .25);
}

}  // namespace
}  // namespace whichlink::drill
