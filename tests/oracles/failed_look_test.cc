// A failed look. S. Ross, "A First Course in Probability", Example 3k, and "Introduction to
// Probability and Statistics for Engineers and Scientists", Example 3.7 f and g: seen. A lost plane
// is equally likely in three regions; a search overlooks it with chance alpha where it is. After a
// search of region 1 has failed: alpha / (alpha + 2) for region 1, 1 / (alpha + 2) for the others.

#include <gtest/gtest.h>

#include <cmath>

#include "belief/belief.h"
#include "belief/set_belief.h"

namespace whichlink {
namespace {

/// "In exactly one region" is not a product of priors: it is said by sets of at most one fault, and
/// a complaint that no empty set explains. The look is the second sense.
class FailedLook : public testing::TestWithParam<double> {};

TEST_P(FailedLook, MovesTheChanceToTheOtherRegions) {
  const double overlooked = GetParam();
  belief::Network network;
  network.prior.assign(3, {.9, 0, .1});
  network.at_most = {std::vector<std::vector<double>>(3, {0, 1}),
                     std::vector<std::vector<double>>(3, {overlooked, 1})};
  const std::vector<belief::Slice> slices = {{{}, {{0, 1, 2}, 0, {1, 1}, {0, 1}}},
                                             {{}, {{0}, 1, {1, 1}, {1, 0}}}};
  const auto posterior = belief::by_subsets(network, slices, 1);
  EXPECT_NEAR(posterior.marginal[0][belief::kShowing], overlooked / (overlooked + 2), 1e-12);
  EXPECT_NEAR(posterior.marginal[1][belief::kShowing], 1 / (overlooked + 2), 1e-12);
  EXPECT_NEAR(posterior.marginal[2][belief::kShowing], 1 / (overlooked + 2), 1e-12);
}

// Figures for alpha = .4, .1, .9, derived from the formula, six digits: region 1, regions 2 and 3.
TEST(FailedLookFigures, SixDigits) {
  const double figures[3][3] = {
      {.4, .166667, .416667}, {.1, .047619, .476190}, {.9, .310345, .344828}};
  for (const auto& row : figures) {
    belief::Network network;
    network.prior.assign(3, {.9, 0, .1});
    network.at_most = {std::vector<std::vector<double>>(3, {0, 1}),
                       std::vector<std::vector<double>>(3, {row[0], 1})};
    belief::SetBelief belief(network, 1, 0);
    belief.apply({{}, {{0, 1, 2}, 0, {1, 1}, {0, 1}}});
    const belief::Question look{{}, {0}, 1, {1, 1}, {{1, 0}, {0, 1}}};
    const auto failed = belief.forecast(look, std::vector<bool>(3, true)).outcomes[0];
    EXPECT_NEAR(failed.chance, (row[0] + 2) / 3, 1e-12);
    EXPECT_NEAR(failed.present[0], row[1], .5e-6);
    EXPECT_NEAR(failed.present[1], row[2], .5e-6);
    EXPECT_NEAR(failed.present[2], row[2], .5e-6);
  }
}

INSTANTIATE_TEST_SUITE_P(Ross, FailedLook, testing::Values(.1, .25, .4, .9));

}  // namespace
}  // namespace whichlink
