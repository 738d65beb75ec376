// When a fault began. Published: the mean of a constant force within an interval (the manual of a
// demography package, both forms: seen; S. Preston, P. Heuveline & M. Guillot, Demography, 2001,
// from memory) and rows of a life table. The rest is derived, integrated or drawn.

#include "upkeep/onset.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <limits>

#include "upkeep/support.h"

namespace whichlink::upkeep {
namespace {

/// The density as it is defined, before it is made to add up to 1.
double density(double rate, double start, const std::vector<PassedCheck>& passed, double day) {
  double value = std::exp(-rate * (day - start));
  for (const PassedCheck& check : passed) {
    if (check.day >= day) value *= 1 - check.chance_found;
  }
  return value;
}

/// Chance and mean by integration, piece by piece; passes must be in order and inside.
struct Integrated {
  double mass = 0, moment = 0;
};

Integrated integrated(double rate, double start, const std::vector<PassedCheck>& passed,
                      double until) {
  Integrated sum;
  double begin = start;
  const auto piece = [&](double end) {
    if (end <= begin) return;
    // A hair inside, for the density jumps at a pass.
    const double hair = (end - begin) * 1e-13;
    const auto here = [&](double day) {
      return density(rate, start, passed, std::clamp(day, begin + hair, end - hair));
    };
    sum.mass += integral(here, begin, end, 8000);
    sum.moment += integral([&](double day) { return day * here(day); }, begin, end, 8000);
    begin = end;
  };
  for (const PassedCheck& check : passed) piece(std::min(check.day, until));
  piece(until);
  return sum;
}

// Derived digits; the formula is (1 - e^(-rate d)) / (1 - e^(-rate n)).
TEST(Onset, OfConstantHazardHasTheDerivedChances) {
  const Onset onset(.02, 0, 30, {});
  const std::array<double, 5> chances = {.210915, .401760, .574443, .730693, .872073};
  for (std::size_t index = 0; index < chances.size(); ++index)
    EXPECT_NEAR(onset.begun_by(5 * static_cast<double>(index + 1)), chances[index], .5e-6);
  EXPECT_NEAR(onset.mean(), 13.508924, .5e-6);
  EXPECT_NEAR(onset.quantile(.5), 12.782962, .5e-6);
}

// Both published forms: n + 1/m - n/(1 - e^(-nm)), and with q = 1 - e^(-nm),
// n - n/q - n/ln(1 - q).
TEST(Onset, MeanIsThePublishedOneInBothForms) {
  for (const double rate : {.001, .02, .1, 1.0}) {
    for (const double n : {1.0, 30.0, 365.0}) {
      const double q = -std::expm1(-n * rate);
      EXPECT_NEAR(mean_onset(rate, n), n + 1 / rate - n / q, 1e-9 * n) << rate << " " << n;
      if (q < 1 - 1e-6) {
        EXPECT_NEAR(mean_onset(rate, n), n - n / q - n / std::log(1 - q), 1e-8 * n) << rate;
      }
    }
  }
}

TEST(Onset, OfASmallRateIsNearlyUniform) {
  const Onset small(1e-5, 0, 30, {});
  EXPECT_NEAR(small.begun_by(10), .333367, .5e-6);
  EXPECT_NEAR(small.begun_by(15), .5000375, 1e-9);  // printed .500038, a tie
  for (const double rate : {0.0, 1e-300, 1e-20, 1e-12}) {
    const Onset onset(rate, 100, 130, {});
    EXPECT_NEAR(onset.begun_by(110), 1.0 / 3, 1e-11) << rate;
    EXPECT_NEAR(onset.mean(), 115, 1e-9) << rate;
    EXPECT_NEAR(onset.quantile(.25), 107.5, 1e-9) << rate;
  }
}

// United States life table of 2003 (NVSS 54(14), table 1; the L of all rows and the first l and q
// seen, the other q from memory, their l from the row before). Years lived at an age are those who
// survive it, and the mean onset of those who do not. Within 1, for the l are rounded.
TEST(Onset, GivesTheYearsLivedOfALifeTable) {
  struct Row {
    double alive, dies, lived, derived;
  };
  const auto lived = [](double alive, double dies) {
    const double hazard = -std::log1p(-dies);
    return alive * (1 - dies) + alive * dies * mean_onset(hazard, 1);
  };
  for (const Row& row :
       {Row{99313, .000469, 99290, 99289.7}, Row{99266, .000337, 99250, 99249.3},
        Row{99233, .000254, 99221, 99220.4}, Row{99208, .000194, 99199, 99198.4}}) {
    EXPECT_NEAR(lived(row.alive, row.dies), row.lived, 1);
    EXPECT_NEAR(lived(row.alive, row.dies), row.derived, .06);
  }
  // In the first year of life the hazard is not constant, and the formula is 262 years off: so it
  // must not be used where faults are likelier at first.
  EXPECT_NEAR(lived(100000, .006865), 99656.4, .06);
  EXPECT_GT(lived(100000, .006865) - 99394, 260);
}

TEST(Onset, IsZeroBeforeTheStartAndOneFromWhenItWasFound) {
  const Onset onset(.1, 10, 20, {{15, .5}});
  EXPECT_EQ(onset.begun_by(9.99), 0);
  EXPECT_EQ(onset.begun_by(10), 0);
  EXPECT_LT(onset.begun_by(19.99), 1);
  EXPECT_EQ(onset.begun_by(20), 1);
  EXPECT_EQ(onset.begun_by(1e9), 1);
  EXPECT_EQ(onset.quantile(0), 10);
  EXPECT_EQ(onset.quantile(1), 20);
}

TEST(Onset, FoundOnTheDayOfTheStartBeganThen) {
  const Onset onset(.1, 10, 10, {{10, .5}, {3, 1}, {12, 1}});
  EXPECT_EQ(onset.begun_by(9.99), 0);
  EXPECT_EQ(onset.begun_by(10), 1);
  EXPECT_EQ(onset.mean(), 10);
  EXPECT_EQ(onset.quantile(.3), 10);
}

TEST(Onset, StartsAfreshAtAPassThatCannotFail) {
  const Onset onset(.05, 0, 30, {{20, .3}, {12, 1}, {4, .9}, {8, 1}});
  const Onset fresh(.05, 12, 30, {{20, .3}});
  EXPECT_EQ(onset.begun_by(12), 0);
  for (const double day : {13.0, 19.0, 20.0, 25.0, 29.0})
    EXPECT_NEAR(onset.begun_by(day), fresh.begun_by(day), 1e-14);
  EXPECT_NEAR(onset.mean(), fresh.mean(), 1e-12);
  EXPECT_EQ(onset.quantile(0), 12);
}

TEST(Onset, TakesPassesInAnyOrderAndNoneOutsideItsWindow) {
  const Onset ordered(.03, 0, 30, {{5, .4}, {10, .8}, {10, .2}, {25, .1}});
  const Onset mixed(
      .03, 0, 30,
      {{25, .1}, {10, .2}, {30, 1}, {-3, 1}, {5, .4}, {0, 1}, {31, 1}, {10, .8}, {20, 0}});
  for (double day = 1; day < 30; ++day)
    EXPECT_NEAR(ordered.begun_by(day), mixed.begun_by(day), 1e-14) << day;
  EXPECT_NEAR(ordered.mean(), mixed.mean(), 1e-12);
}

TEST(Onset, EqualsIntegrationOfItsDensity) {
  const std::vector<std::vector<PassedCheck>> histories = {
      {}, {{10, .5}}, {{3, .9}, {9, .8}, {17, .3}, {26, .95}}, {{1, .2}, {1.5, .999}, {29.5, .7}}};
  for (const double rate : {0.0, 1e-6, .01, .4, 3.0}) {
    for (const auto& passed : histories) {
      const Onset onset(rate, 0, 30, passed);
      const Integrated all = integrated(rate, 0, passed, 30);
      EXPECT_NEAR(onset.mean(), all.moment / all.mass, 3e-9);
      for (const double day : {.5, 1.0, 4.0, 10.0, 16.9, 17.1, 29.0}) {
        const double chance = integrated(rate, 0, passed, day).mass / all.mass;
        EXPECT_NEAR(onset.begun_by(day), chance, 1e-10) << rate << " " << day;
      }
    }
  }
}

TEST(Onset, QuantileTurnsTheChanceAround) {
  for (const double rate : {0.0, 1e-9, .02, 5.0}) {
    const Onset onset(rate, 0, 30, {{7, .6}, {14, .6}, {21, .6}});
    for (const double chance : {.001, .05, .3, .5, .77, .95, .999})
      EXPECT_NEAR(onset.begun_by(onset.quantile(chance)), chance, 1e-12) << rate;
  }
}

// A fault begins, each check on the way fails with its chance; what is left of the draws are those
// that passed all of them.
TEST(Onset, EqualsWhatIsLeftOfASimulation) {
  const std::vector<PassedCheck> passed = {{4, .6}, {11, .3}, {18, .8}, {25, .5}};
  const double rate = .05;
  const double found = 30;
  const Onset onset(rate, 0, found, passed);
  Random random(20240501);
  std::vector<double> days;
  while (days.size() < 100000) {
    const double day = days_until(random, rate);
    if (day >= found) continue;
    const bool all_passed =
        std::all_of(passed.begin(), passed.end(), [&](const PassedCheck& check) {
          return check.day < day || !random.chance(check.chance_found);
        });
    if (all_passed) days.push_back(day);
  }
  const Mean mean = mean_of(days);
  EXPECT_NEAR(onset.mean(), mean.value, 4 * mean.error);
  for (const double day : {3.0, 10.0, 17.0, 19.0, 24.0, 28.0}) {
    std::vector<double> begun;
    begun.reserve(days.size());
    for (const double one : days) begun.push_back(one <= day ? 1 : 0);
    const Mean share = mean_of(begun);
    EXPECT_NEAR(onset.begun_by(day), share.value, 4 * share.error) << day;
  }
}

// A thousand passes would make the plain product 0, and so would rates of thousands per window.
TEST(Onset, StandsManyPassesAndHugeRates) {
  std::vector<PassedCheck> passed;
  for (int day = 1; day < 1000; ++day) passed.push_back({static_cast<double>(day), .999});
  const Onset many(.001, 0, 1000, passed);
  EXPECT_NEAR(1 - many.begun_by(999), 1 / (1 + .001 / .999), 1e-5);
  EXPECT_EQ(many.begun_by(500), 0);

  // What begins within seconds of the start outweighs even a thousand passes.
  const Onset fast(50, 0, 1000, passed);
  EXPECT_NEAR(fast.mean(), .02, 1e-9);
  EXPECT_NEAR(fast.begun_by(.02), 1 - std::exp(-1.0), 1e-9);
  const Onset faster(1e6, 0, 1000, {{500, .5}});
  EXPECT_NEAR(faster.mean() * 1e6, 1, 1e-9);
  EXPECT_NEAR(faster.quantile(.5) * 1e6, std::log(2.0), 1e-9);
}

TEST(Onset, NeverFallsOverTwentyThousandPasses) {
  std::vector<PassedCheck> passed;
  for (int day = 1; day < 20000; ++day) passed.push_back({static_cast<double>(day), .01});
  const Onset onset(.001, 0, 20000, passed);
  double last = 0;
  for (int index = 0; index < 200000; ++index) {
    const double chance = onset.begun_by(.1 * index);
    ASSERT_GE(chance, last - 1e-15);
    ASSERT_LE(chance, 1);
    last = chance;
  }
  EXPECT_GT(last, .99);
}

}  // namespace
}  // namespace whichlink::upkeep
