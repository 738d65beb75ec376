// Noisy-OR fever. S. Russell and P. Norvig, "Artificial Intelligence: A Modern Approach", section
// on efficient conditional distributions. The table was seen, in two independent public tests; the
// priors .25, .10, .01 were seen in a public example file and are not the textbook's. P(fever) and
// the posteriors are derived (enumeration of eight states; and Quickscore's product form).

#include <gtest/gtest.h>

#include <cmath>

#include "belief/belief.h"

namespace whichlink {
namespace {

constexpr std::size_t kCold = 0, kFlu = 1, kMalaria = 2;

/// A cause is present and showing, or absent. Severity 0: no fever; 1: fever.
belief::Network causes(double cold, double flu, double malaria) {
  belief::Network network;
  for (const double chance : {cold, flu, malaria}) network.prior.push_back({1 - chance, 0, chance});
  network.at_most = {{{.6, 1}, {.2, 1}, {.1, 1}}};
  return network;
}

const std::vector<belief::Slice> kFever = {{{}, {{0, 1, 2}, 0, {1, 1}, {0, 1}}}};

TEST(NoisyOrFever, TableOfEightRows) {
  // P(fever | cold, flu, malaria): seen.
  const double table[2][2][2] = {{{0, .9}, {.8, .98}}, {{.4, .94}, {.88, .988}}};
  for (int cold = 0; cold < 2; ++cold) {
    for (int flu = 0; flu < 2; ++flu) {
      for (int malaria = 0; malaria < 2; ++malaria) {
        const auto network = causes(cold, flu, malaria);
        const double expected = table[cold][flu][malaria];
        const auto subsets = belief::by_subsets(network, kFever, 3);
        const auto thresholds = belief::by_thresholds(network, kFever);
        ASSERT_TRUE(thresholds.fits);
        EXPECT_NEAR(std::exp(subsets.log_evidence), expected, 1e-12);
        EXPECT_NEAR(std::exp(thresholds.posterior.log_evidence), expected, 1e-12);
      }
    }
  }
}

TEST(NoisyOrFever, PosteriorOfThreeCauses) {
  const auto network = causes(.25, .10, .01);
  const auto thresholds = belief::by_thresholds(network, kFever);
  ASSERT_TRUE(thresholds.fits);
  for (const auto& posterior : {thresholds.posterior, belief::by_subsets(network, kFever, 3),
                                belief::best_posterior(network, kFever).posterior}) {
    EXPECT_NEAR(std::exp(posterior.log_evidence), .179452, .5e-6);                // derived
    EXPECT_NEAR(posterior.marginal[kCold][belief::kShowing], .631043399, .5e-9);  // derived
    EXPECT_NEAR(posterior.marginal[kFlu][belief::kShowing], .457849453, .5e-9);   // derived
    EXPECT_NEAR(posterior.marginal[kMalaria][belief::kShowing], .051111161, .5e-9);
  }
}

}  // namespace
}  // namespace whichlink
