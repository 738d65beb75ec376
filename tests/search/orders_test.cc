// Orders that are known to be best: repairs by chance over cost, looks that may miss by the index
// rule, series tests by cost over chance of failing.

#include <gtest/gtest.h>

#include "search/support.h"

namespace whichlink::search {
namespace {

/// One of several is bad; repairing it is heard at once. @param works  chance that a repair of the
/// bad one works
Process repairs(const std::vector<double>& priors, const std::vector<double>& minutes,
                const std::vector<double>& works) {
  Builder builder(priors);
  for (std::uint32_t repair = 0; repair < priors.size(); ++repair) {
    std::vector<Builder::Row> next;
    for (std::uint32_t state = 0; state < priors.size(); ++state) {
      if (state != repair) {
        next.push_back({{state, 1}});
      } else if (works[repair] == 1) {
        next.push_back({{builder.end(), 1}});
      } else {
        next.push_back({{state, 1 - works[repair]}, {builder.end(), works[repair]}});
      }
    }
    builder.move(minutes[repair], next);
  }
  builder.ending(std::vector<double>(priors.size(), 500));  // giving up; never worth it here
  return builder.process();
}

// Kadane & Simon, Annals of Statistics 5 (1977) (from memory); the instance is derived: output .10
// at 4, patch cord .30 at 1, panel .15 at 6, cord .35 at 2, transducer .10 at 8 cost 6.1 in the
// order patch cord, cord, output, panel, transducer. Output and panel tie.
TEST(Orders, RepairsGoByChanceOverCost) {
  const std::vector<double> priors = {.10, .30, .15, .35, .10};
  const std::vector<double> minutes = {4, 1, 6, 2, 8};
  const std::vector<double> sure(5, 1.0);
  const Process process = repairs(priors, minutes, sure);
  Search search(process);
  search.refine(1e-9, kPlenty);
  EXPECT_NEAR(search.answer().upper, 6.1, 1e-9);
  EXPECT_NEAR(search.answer().lower, 6.1, 1e-9);
  EXPECT_EQ(search.answer().choice, 1U);
  // After both cords: output first and panel first cost the same.
  const Belief tied = {.10 / .35, 0, .15 / .35, 0, .10 / .35};
  const auto with_first = [&](std::size_t choice) {
    double total = cost(process.sites[0].choices[choice], tied);
    const Left left(process, 0, tied, choice);
    for (std::size_t report = 0; report < left.observations(); ++report) {
      const double here = left.mass(report);
      if (here <= 0) continue;
      Process later = process;
      later.start.clear();
      for (const double one : left.belief(report)) later.start.push_back(one / here);
      total += here * solved(later, 1e-10, kPlenty).upper;
    }
    return total;
  };
  EXPECT_NEAR(with_first(0), with_first(2), 1e-8);
}

// Blackwell's rule for looks that may miss (M. Chew, Annals of Mathematical Statistics 38, 1967):
// always where chance x detection / cost is largest. Derived, by brute force elsewhere: priors .5
// .3 .2, detection .4 .7 .9, unit costs 3.89239381761; costs 1, 2, 4: 6.47710280821.
TEST(Orders, LooksThatMayMissGoByTheIndexRule) {
  const std::vector<double> priors = {.5, .3, .2};
  const std::vector<double> found = {.4, .7, .9};
  const Answer unit = solved(repairs(priors, {1, 1, 1}, found), 1e-9, kPlenty);
  EXPECT_NEAR(unit.upper, 3.89239381761, 1e-7);
  EXPECT_NEAR(unit.lower, 3.89239381761, 1e-7);
  EXPECT_EQ(unit.choice, 1U);
  const Answer dear = solved(repairs(priors, {1, 2, 4}, found), 1e-9, kPlenty);
  EXPECT_NEAR(dear.upper, 6.47710280821, 1e-7);
  EXPECT_NEAR(dear.lower, 6.47710280821, 1e-7);
  EXPECT_EQ(dear.choice, 0U);
}

// Tests in series, stopped at the first that fails, go by cost over chance of failing (Mitten 1960,
// from memory). Inputs of a published exercise on circuit boards (seen, without its answer): 51.75
// at .125, 2 at .075, 52.4 at .14; the best of the six orders, all worked out, costs 91.637125.
TEST(Orders, SeriesTestsGoByCostOverChanceOfFailing) {
  const std::vector<double> fails = {.125, .075, .140};
  const std::vector<double> minutes = {51.75, 2, 52.4};
  std::vector<double> priors;
  for (unsigned bad = 0; bad < 8; ++bad) {
    double prior = 1;
    for (unsigned test = 0; test < 3; ++test) {
      prior *= (bad >> test & 1U) != 0 ? fails[test] : 1 - fails[test];
    }
    priors.push_back(prior);
  }
  Builder builder(priors);
  for (unsigned test = 0; test < 3; ++test) {
    std::vector<Builder::Row> next;
    for (std::uint32_t bad = 0; bad < 8; ++bad) {
      const bool failed = (bad >> test & 1U) != 0;
      next.push_back({{failed ? builder.end() : bad, 1}});
    }
    builder.move(minutes[test], next);
  }
  std::vector<double> accept(8, 5000);  // passing a bad board
  accept[0] = 0;
  builder.ending(accept);
  const Answer answer = solved(builder.process(), 1e-9, kPlenty);
  EXPECT_NEAR(answer.upper, 91.637125, 1e-6);
  EXPECT_NEAR(answer.lower, 91.637125, 1e-6);
  EXPECT_EQ(answer.choice, 1U);
}

}  // namespace
}  // namespace whichlink::search
