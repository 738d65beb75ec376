// Random small processes against plain expansion of every action and report to a fixed depth.

#include "base/random.h"

#include <gtest/gtest.h>

#include "search/support.h"

namespace whichlink::search {
namespace {

/// The least cost over plans of at most `depth` actions, the last of which must end the case; with
/// `may_stop` the case simply ends there at no cost, which bounds the true least cost from below.
double expanded(const Process& process, std::size_t site, BeliefView belief, std::size_t depth,
                bool may_stop) {
  if (depth == 0) {
    return may_stop ? 0 : UpperBound(process).at(site, belief);
  }
  double best = 1e300;
  for (std::size_t number = 0; number < process.sites[site].choices.size(); ++number) {
    double value = cost(process.sites[site].choices[number], belief);
    const Left left(process, site, belief, number);
    for (std::size_t report = 0; report < left.observations(); ++report) {
      if (left.mass(report) <= 0) continue;
      value += expanded(process, left.site(), left.belief(report), depth - 1, may_stop);
    }
    best = std::min(best, value);
  }
  return best;
}

// Each action but the last looks, costs at least half of what ending costs at most, so no plan that
// is any good makes more than a few: expansion to depth 4 is then exact.
Process random_process(Random& random) {
  const std::size_t states = 2 + random.below(3);
  std::vector<double> priors;
  double total = 0;
  for (std::size_t state = 0; state < states; ++state) {
    priors.push_back(.05 + random.uniform());
    total += priors.back();
  }
  for (double& prior : priors) prior /= total;
  Builder builder(priors);
  const std::size_t looks = 1 + random.below(2);
  for (std::size_t look = 0; look < looks; ++look) {
    std::vector<std::vector<double>> report;
    for (std::size_t state = 0; state < states; ++state) {
      const double chance = random.uniform();
      report.push_back({chance, 1 - chance});
    }
    builder.look(2.5 + random.uniform(), report);
  }
  for (std::size_t guess = 0; guess < states; ++guess) {
    std::vector<double> minutes(states, 10);
    minutes[guess] = 0;
    builder.ending(minutes);
  }
  return builder.process();
}

TEST(Search, EqualsFullExpansionOnFiveHundredRandomCases) {
  Random random(20261125);
  for (int round = 0; round < 500; ++round) {
    const Process process = random_process(random);
    // Four looks cost 10 at least, which no guess does: a plan of depth 5 is as good as any.
    const double exact = expanded(process, 0, process.start, 5, false);
    const Answer answer = solved(process, 1e-7, kPlenty);
    ASSERT_NEAR(answer.upper, exact, 1e-6) << round;
    ASSERT_NEAR(answer.lower, exact, 1e-6) << round;
  }
}

Process moving_states(Random& random) {
  Builder builder({.5, .3, .2});
  for (int action = 0; action < 2; ++action) {
    std::vector<Builder::Row> next;
    for (std::uint32_t state = 0; state < 3; ++state) {
      const double stays = random.uniform();
      const double cured = (1 - stays) * random.uniform();
      Builder::Row row = {{state, stays}};
      if (state == 0) row.push_back({1, 1 - stays - cured});
      if (state > 0) row.insert(row.begin(), {0, 1 - stays - cured});
      row.push_back({builder.end(), cured});
      next.push_back(row);
    }
    builder.move(1 + random.uniform(), next);
  }
  builder.ending({6, 9, 12});
  return builder.process();
}

TEST(Search, NeverLeavesTheBoundsOfExpansionWhereStatesMove) {
  Random random(7);
  for (int round = 0; round < 60; ++round) {
    const Process process = moving_states(random);
    Search search(process);
    search.refine(1e-3, kPlenty);
    const Answer answer = search.answer();
    EXPECT_LE(answer.lower, expanded(process, 0, process.start, 7, false) + 1e-9) << round;
    EXPECT_GE(answer.upper, expanded(process, 0, process.start, 7, true) - 1e-9) << round;
    EXPECT_LE(answer.lower, answer.upper + 1e-9);
    EXPECT_LE(answer.gap(), .01 * answer.upper) << round;  // the sawtooth closes in slowly
  }
}

/// Two sites, each with a look, ways between them and an end; the states of one are moved when the
/// other is reached.
Process two_sites(Random& random) {
  Process process;
  process.start = {.5, .3, .2};
  for (std::size_t site = 0; site < 2; ++site) {
    Site here{3, {}};
    for (std::size_t number = 0; number < 3; ++number) {
      Choice choice{number == 2 ? 1 - site : site, 2, {}, {}};
      for (std::uint32_t state = 0; state < 3; ++state) {
        choice.minutes.push_back(1 + random.uniform());
        const double first = random.uniform();
        const double stays = .5 + .5 * random.uniform();
        const std::uint32_t other = (state + 1) % 3;
        choice.arcs.push_back({{0, state, first * stays},
                               {0, other, first * (1 - stays)},
                               {1, state, (1 - first) * .9}});
      }
      here.choices.push_back(std::move(choice));
    }
    here.choices.push_back({site, 0, {6 - 3. * static_cast<double>(site), 9, 12}, {{}, {}, {}}});
    process.sites.push_back(std::move(here));
  }
  return process;
}

TEST(Search, NeverLeavesTheBoundsOfExpansionOverTwoSites) {
  Random random(11);
  for (int round = 0; round < 60; ++round) {
    const Process process = two_sites(random);
    const Answer answer = solved(process, 1e-3, kPlenty);
    EXPECT_LE(answer.lower, expanded(process, 0, process.start, 5, false) + 1e-9) << round;
    EXPECT_GE(answer.upper, expanded(process, 0, process.start, 5, true) - 1e-9) << round;
    EXPECT_LE(answer.lower, answer.upper + 1e-9);
    EXPECT_LE(answer.gap(), .01 * answer.upper) << round;
  }
}

// The informed bound is a bound, and no better than what everything known would allow is claimed.
TEST(Search, BeginsWithBoundsThatHold) {
  Random random(99);
  for (int round = 0; round < 100; ++round) {
    const Process process = random_process(random);
    const double exact = expanded(process, 0, process.start, 5, false);
    EXPECT_LE(LowerBound(process, 100).at(0, process.start), exact + 1e-9);
    EXPECT_GE(UpperBound(process).at(0, process.start), exact - 1e-9);
  }
}

TEST(Search, TheSameBudgetGivesTheSameAnswer) {
  Random random(3);
  const Process process = moving_states(random);
  const Answer one = solved(process, 0, 300);
  const Answer other = solved(process, 0, 300);
  EXPECT_GT(one.gap(), 1e-9);  // the budget ended it
  EXPECT_EQ(one.lower, other.lower);
  EXPECT_EQ(one.upper, other.upper);
  EXPECT_EQ(one.choice, other.choice);
}

}  // namespace
}  // namespace whichlink::search
