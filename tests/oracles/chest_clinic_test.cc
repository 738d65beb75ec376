// Chest clinic, the noisy variant. S. Lauritzen and D. Spiegelhalter, "Local computations with
// probabilities on graphical structures", JRSS B 50 (1988): tables seen in several public sources.
// In this variant "either" is true with .99 if tuberculosis or lung cancer is, else with .01. Given
// a visit to Asia, smoking and a positive x-ray: tuberculosis .253508694039, lung cancer
// .5070173880 (seen; cut off, not rounded: .25350869403979 and .50701738807958 were derived).
//
// Only this much of the network is a worst-of-independent-faults: given visit and smoking the two
// diseases are independent, and the x-ray depends on whether any is there. Shortness of breath is
// not: it depends on "either" and bronchitis by a table whose both-row (.9 against .7 and .8) is no
// maximum.

#include <gtest/gtest.h>

#include "belief/belief.h"

namespace whichlink {
namespace {

TEST(ChestClinic, NoisyVariantWithVisitSmokingAndXRay) {
  belief::Network network;
  network.prior = {{.95, 0, .05}, {.90, 0, .10}};  // P(tub | visit), P(lung | smoking)
  network.at_most = {{{0, 1}, {0, 1}}};
  const double none = .99 * .05 + .01 * .98;  // P(x-ray | no disease), through "either"
  const double any = .01 * .05 + .99 * .98;
  const std::vector<belief::Slice> x_ray = {{{}, {{0, 1}, 0, {1, 1}, {none, any}}}};
  for (const auto& posterior :
       {belief::by_thresholds(network, x_ray).posterior, belief::by_subsets(network, x_ray, 2)}) {
    EXPECT_NEAR(posterior.marginal[0][belief::kShowing], .253508694039, 1e-12);
    EXPECT_NEAR(posterior.marginal[1][belief::kShowing], .5070173880, 1e-10);
  }
}

}  // namespace
}  // namespace whichlink
