// Three fast engines and their choice against the joint over all states.

#include <gtest/gtest.h>

#include <cmath>
#include <sstream>

#include "belief/belief.h"
#include "belief/enumeration.h"
#include "belief/joint.h"
#include "belief/random_case.h"
#include "belief/set_belief.h"

namespace whichlink {
namespace {

using belief::Posterior;

// Two ways to one number: a few hundred roundings of 1e-16.
constexpr double kSameNumber = 1e-12;

/// Empty if equal, else what differs.
std::string difference(const Posterior& expected, const Posterior& found) {
  std::ostringstream text;
  text.precision(17);
  const bool both_impossible = std::isinf(expected.log_evidence) && std::isinf(found.log_evidence);
  if (!both_impossible && !(std::abs(expected.log_evidence - found.log_evidence) <= kSameNumber)) {
    text << "log_evidence " << expected.log_evidence << " but " << found.log_evidence << "; ";
  }
  for (std::size_t fault = 0; fault < expected.marginal.size(); ++fault) {
    for (std::size_t state = 0; state < belief::kStates; ++state) {
      const double right = expected.marginal[fault][state];
      const double shown = found.marginal[fault][state];
      if (!(std::abs(right - shown) <= kSameNumber)) {
        text << "fault " << fault << " state " << state << " " << right << " but " << shown << "; ";
      }
    }
  }
  if (!(std::abs(expected.none_present - found.none_present) <= kSameNumber)) {
    text << "none_present " << expected.none_present << " but " << found.none_present << "; ";
  }
  return text.str();
}

/// More terms than a signed sum of this evidence can have.
double most_terms_of(const referee::Case& random_case) {
  double terms = 1;
  for (const auto& slice : random_case.slices) {
    terms *= static_cast<double>(slice.hearing.leak_at_most.size());
  }
  return terms;
}

/// @return "" or which engine differs
std::string compare_engines(const referee::Case& given) {
  const Posterior expected = referee::enumerate(given.network, given.slices);
  const std::size_t faults = given.network.faults();
  std::string text = difference(expected, belief::by_subsets(given.network, given.slices, faults));
  if (!text.empty()) return "subsets: " + text;
  text = difference(expected, belief::by_joint(given.network, given.slices,
                                               belief::joint_shape(given.network, given.slices)));
  if (!text.empty()) return "joint: " + text;
  text = difference(expected, belief::best_posterior(given.network, given.slices).posterior);
  if (!text.empty()) return "best: " + text;
  const auto thresholds = belief::by_thresholds(given.network, given.slices);
  if (thresholds.fits) {
    text = difference(expected, thresholds.posterior);
    return text.empty() ? "" : "thresholds: " + text;
  }
  // The sum may give up only on too many terms, or where all of it cancels.
  if (most_terms_of(given) <= 4096 && !std::isinf(expected.log_evidence)) {
    return "thresholds do not fit";
  }
  return "";
}

TEST(Agreement, AllEnginesEqualEnumerationOnRandomNetworks) {
  std::size_t impossible = 0;
  std::size_t by_terms = 0;
  for (std::uint64_t seed = 1; seed <= 4000; ++seed) {
    Random random(seed);
    const referee::Case given = referee::random_case(random, referee::Shape{});
    ASSERT_EQ(compare_engines(given), "") << "seed " << seed;
    if (std::isinf(referee::enumerate(given.network, given.slices).log_evidence)) ++impossible;
    if (belief::by_thresholds(given.network, given.slices).fits) ++by_terms;
  }
  EXPECT_GT(impossible, 20U);  // the cases do hold impossible evidence
  EXPECT_GT(by_terms, 3000U);  // and the sum is really compared
}

TEST(Agreement, AllEnginesEqualEnumerationWithSmallPriorsAndTwelveHearings) {
  referee::Shape shape;
  shape.small_priors = true;
  shape.most_severities = 3;
  shape.most_slices = 12;
  for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
    Random random(seed + 1'000'000);
    const referee::Case given = referee::random_case(random, shape);
    ASSERT_EQ(compare_engines(given), "") << "seed " << seed;
  }
}

TEST(Agreement, ThresholdsOfManyFaultsEqualEnumeration) {
  referee::Shape shape;
  shape.least_faults = 9;
  shape.most_faults = 9;
  shape.most_severities = 4;
  shape.most_slices = 4;
  std::size_t by_thresholds = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    Random random(seed + 2'000'000);
    const referee::Case given = referee::random_case(random, shape);
    const Posterior expected = referee::enumerate(given.network, given.slices);
    const belief::Choice choice = belief::best_posterior(given.network, given.slices);
    ASSERT_EQ(difference(expected, choice.posterior), "") << "seed " << seed;
    if (choice.method == belief::Method::thresholds) ++by_thresholds;
  }
  EXPECT_GT(by_thresholds, 5U);
}

// Every path, a few reports, moves and leaks of two hearings of two and three faults.
TEST(Agreement, AllEnginesEqualEnumerationOnEverySmallStructure) {
  using belief::StateMatrix;
  const std::vector<StateMatrix> moves = {
      belief::kIdentity,
      {{{1, 0, 0}, {.6, .3, .1}, {.6, .1, .3}}},                    // a remedy
      {{{.9, .04, .06}, {0, .7, .3}, {0, .2, .8}}},                 // a joint remade badly
      {{{.99, .004, .006}, {.99, .004, .006}, {.99, .004, .006}}},  // replaced
  };
  const std::vector<std::vector<double>> reports = {{1, 0}, {0, 1}, {.9, .2}};
  const std::vector<std::vector<double>> leaks = {{1, 1}, {.97, 1}};
  std::size_t cases = 0;
  for (std::uint32_t faults = 2; faults <= 3; ++faults) {
    referee::Case given;
    for (std::uint32_t fault = 0; fault < faults; ++fault) {
      given.network.prior.push_back({.9 - .1 * fault, .04 + .06 * fault, .06 + .04 * fault});
    }
    given.network.at_most.resize(1);
    for (std::uint32_t fault = 0; fault < faults; ++fault) {
      given.network.at_most[0].push_back({.3 * fault, 1});  // the first is never silent
    }
    const std::uint32_t paths = 1U << faults;
    for (std::uint32_t structure = 0; structure < paths * paths; ++structure) {
      for (std::size_t kind = 0; kind < 9 * 16 * 2; ++kind) {
        given.slices.assign(2, {});
        for (std::uint32_t slice = 0; slice < 2; ++slice) {
          belief::Slice& next = given.slices[slice];
          const std::uint32_t path = slice == 0 ? structure % paths : structure / paths;
          for (std::uint32_t fault = 0; fault < faults; ++fault) {
            if ((path >> fault & 1U) != 0) next.hearing.path.push_back(fault);
          }
          const std::size_t move = kind / 2 / 9 / (slice == 0 ? 1 : 4) % 4;
          for (std::uint32_t fault = 0; fault < faults; ++fault) {
            next.transitions.push_back({fault, moves[move]});
          }
          next.hearing.leak_at_most = leaks[kind % 2];
          next.hearing.chance_of_report = reports[kind / 2 % 9 / (slice == 0 ? 1 : 3) % 3];
        }
        ASSERT_EQ(compare_engines(given), "") << faults << " " << structure << " " << kind;
        ++cases;
      }
    }
  }
  EXPECT_EQ(cases, (16U + 64U) * 288U);
}

}  // namespace
}  // namespace whichlink
