// How often to check. Formulas published, digits derived unless it says otherwise: the mean
// probability of failure on demand (formula in a reliability article of 2015: seen; IEC 61508-6,
// annex B, from memory) and the optimum check interval of an exponential fault (R. Barlow & F.
// Proschan, Mathematical Theory of Reliability, 1965, from memory). What the product has no use for
// (repair times, detected parts, cost until the first detection) stands here and not in engine/.

#include "upkeep/interval.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <limits>

#include "upkeep/support.h"

namespace whichlink::upkeep {
namespace {

/// Found by checks only.
Unrevealed quiet(double rate, double chance_found = 1, double cost = 0) {
  return {rate, chance_found, 0, cost};
}

double root(const auto& rising, double low, double high) {
  for (int step = 0; step < 200; ++step) {
    const double middle = (low + high) / 2;
    (rising(middle) < 0 ? low : high) = middle;
  }
  return low;
}

TEST(Share, IsTheMeanProbabilityOfFailureOnDemand) {
  EXPECT_NEAR(undetected_share(quiet(1e-6), 8760), .004367238, .5e-9);
  EXPECT_NEAR(undetected_share(quiet(1e-5), 8760), .042548566, .5e-9);
  EXPECT_NEAR(undetected_share(quiet(5e-6), 4380), .010870501, .5e-9);
  // The published approximation, rate * T / 2.
  EXPECT_NEAR(undetected_share(quiet(1e-6), 8760), .00438, .00438 * .003);
  for (const double x : {1e-9, 1e-4, .1, .9999, 1.0001, 3.0, 50.0})
    EXPECT_NEAR(undetected_share(quiet(1), x) / (1 + std::expm1(-x) / x), 1, 1e-15 + 1e-15 / x)
        << x;
}

// IEC 61508-6:2010, table B.2, first row (from memory): one channel, rate .5e-7 an hour, checked
// every 4380 h, 8 h to restore; of the faults 0, 60, 90 and 99 % reveal themselves. Two digits.
TEST(Share, GivesTheFirstRowOfTheTableOfOneChannel) {
  struct Row {
    double revealed, published;
  };
  const double rate = .5e-7;
  const double restore = 8;
  for (const Row& row : {Row{0, 1.1e-4}, Row{.6, 4.4e-5}, Row{.9, 1.1e-5}, Row{.99, 1.5e-6}}) {
    const double unrevealed = rate * (1 - row.revealed);
    const double share =
        undetected_share(quiet(unrevealed), 4380) + (unrevealed + rate * row.revealed) * restore;
    const double digit = std::pow(10, std::floor(std::log10(row.published)) - 1);
    EXPECT_NEAR(share, row.published, digit / 2) << row.revealed;
  }
}

// A check that finds only some kinds of fault, all renewed after ten years: C rate T/2 + (1 - C)
// rate L/2 (from memory), here two kinds of fault. It is a first-order formula: too high, by at
// most a third of rate L.
TEST(Share, OfKindsThatOnlyRenewalEndsAddsUp) {
  struct Row {
    double covered, approximately;
  };
  for (const Row& row : {Row{1, .00438}, Row{.9, .008322}, Row{.6, .020148}}) {
    const double share = undetected_share(quiet(row.covered * 1e-6), 8760) +
                         undetected_share(quiet((1 - row.covered) * 1e-6), 87600);
    EXPECT_LT(share, row.approximately);
    EXPECT_GT(share, row.approximately * (1 - 1e-6 * 87600 / 3));
  }
}

TEST(Delay, OfAnImperfectCheckHasTheDerivedDigits) {
  EXPECT_NEAR(undetected_days(quiet(.01, 1), 30), 15.748877, .5e-6);
  EXPECT_NEAR(undetected_days(quiet(.01, .9), 30), 19.082211, .5e-6);
  EXPECT_NEAR(undetected_days(quiet(.01, .5), 30), 45.748877, .5e-6);
  // T / (1 - e^(-rate T)) - 1/rate + T (1/b - 1), where it loses no digits.
  for (const double rate : {.01, .1, 2.0}) {
    for (const double b : {1.0, .7, .05}) {
      const double days = 30;
      const double expected = days / -std::expm1(-rate * days) - 1 / rate + days * (1 / b - 1);
      EXPECT_NEAR(undetected_days(quiet(rate, b), days) / expected, 1, 1e-13) << rate << " " << b;
    }
  }
  // First order: T (1/b - 1/2).
  EXPECT_NEAR(undetected_days(quiet(1e-9, .8), 7), 7 * (1 / .8 - .5), 1e-7);
}

TEST(Delay, IsSteadyWhereRatesVanish) {
  EXPECT_NEAR(undetected_days(quiet(0, .5), 10), 15, 1e-13);
  EXPECT_NEAR(undetected_days(quiet(1e-300, .5), 10), 15, 1e-13);
  const double at_zero = undetected_days({.01, .8, 0, 0}, 10);
  for (const double noticed : {1e-300, 1e-18, 1e-12})
    EXPECT_NEAR(undetected_days({.01, .8, noticed, 0}, 10), at_zero, 1e-9) << noticed;
  // Checks so rare that being noticed is all there is.
  EXPECT_NEAR(undetected_days({.01, .8, .25, 0}, 1e9), 4, 1e-6);
  // The two forms of the engine meet at rate * T = 1.
  EXPECT_NEAR(undetected_days({.5, .8, .5, 0}, 1 - 1e-12), undetected_days({.5, .8, .5, 0}, 1),
              1e-11);
  EXPECT_EQ(undetected_share({0, .8, .1, 1}, 10), 0);
}

// One fault, found by nothing: it is there for good.
TEST(Share, OfWhatNothingFindsIsOne) {
  EXPECT_NEAR(undetected_share({.01, 0, 0, 0}, 30), 1, 1e-15);
  EXPECT_EQ(undetected_days({.01, 0, 0, 0}, 30), std::numeric_limits<double>::infinity());
  // Only being noticed ends it: 1/n days of every 1/n + 1/rate.
  EXPECT_NEAR(undetected_share({.01, 0, .04, 0}, 30), .2, 1e-14);
  EXPECT_NEAR(undetected_days({.01, 0, .04, 0}, 30), 25, 1e-12);
}

const std::array kKinds = {Unrevealed{.01, 1, 0, 0},    Unrevealed{.01, .9, 0, 0},
                           Unrevealed{.02, .6, .05, 0}, Unrevealed{.001, .3, .2, 0},
                           Unrevealed{.5, .8, .01, 0},  Unrevealed{.2, .95, 1.5, 0}};

/// The chance of "there and unknown" by day of the interval, followed by small steps (Runge-Kutta)
/// until it comes round.
std::vector<double> there_by_step(const Unrevealed& kind, double days, std::size_t steps) {
  const double h = days / static_cast<double>(steps);
  const auto change = [&](double u) {
    return kind.rate_per_day * (1 - u) - kind.noticed_per_day * u;
  };
  std::vector<double> there(steps + 1);
  double before = -1;
  while (std::abs(there[0] - before) > 1e-15) {
    before = there[0];
    for (std::size_t step = 0; step < steps; ++step) {
      const double u = there[step];
      const double k1 = change(u);
      const double k2 = change(u + h / 2 * k1);
      const double k3 = change(u + h / 2 * k2);
      const double k4 = change(u + h * k3);
      there[step + 1] = u + h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
    }
    there[0] = (1 - kind.chance_found) * there[steps];
  }
  return there;
}

/// Mean days still to go from each step of the interval on, check by check.
std::vector<double> to_go_by_step(const Unrevealed& kind, double days, std::size_t steps) {
  const double h = days / static_cast<double>(steps);
  const auto unnoticed = [&](double s) { return std::exp(-kind.noticed_per_day * s); };
  std::vector<double> in_use(steps + 1, 0);  // within so many steps without a check
  for (std::size_t step = 0; step < steps; ++step) {
    const double from = h * static_cast<double>(step);
    in_use[step + 1] = in_use[step] + integral(unnoticed, from, from + h, 1);
  }
  double rest = 0;  // from just after a check that missed it
  for (double still = 1; still > 1e-17; still *= unnoticed(days) * (1 - kind.chance_found))
    rest += still * in_use[steps];
  std::vector<double> to_go;
  for (std::size_t step = 0; step <= steps; ++step) {
    const double left = days - h * static_cast<double>(step);
    to_go.push_back(in_use[steps - step] + unnoticed(left) * (1 - kind.chance_found) * rest);
  }
  return to_go;
}

TEST(Delay, EqualsIntegrationInSmallSteps) {
  constexpr std::size_t kSteps = 4000;
  for (const Unrevealed& kind : kKinds) {
    for (const double days : {1.0, 7.0, 30.0}) {
      const std::vector<double> there = there_by_step(kind, days, kSteps);
      const std::vector<double> to_go = to_go_by_step(kind, days, kSteps);
      double share = 0;
      double delay = 0;
      for (std::size_t step = 0; step <= kSteps; ++step) {
        const double inner = step % 2 == 1 ? 4 : 2;
        const double weight = (step == 0 || step == kSteps ? 1 : inner) / (3 * kSteps);  // Simpson
        share += weight * there[step];
        delay += weight * (1 - there[step]) * to_go[step];
      }
      EXPECT_NEAR(undetected_share(kind, days), share, 1e-9);
      EXPECT_NEAR(undetected_days(kind, days), delay / (1 - share), 1e-9 * days);
    }
  }
}

struct Simulated {
  Mean share, delay;
};

/// Fault after fault, on fixed days of checking, or with the interval begun anew at each repair.
Simulated simulated(const Unrevealed& kind, double days, bool fixed_days, std::uint64_t seed) {
  constexpr int kBatches = 200;
  constexpr int kFaults = 1000;
  Random random(seed);
  std::vector<double> shares;
  std::vector<double> delays;
  double phase = 0;  // days since the last check
  for (int batch = 0; batch < kBatches; ++batch) {
    double unknown = 0;
    double all = 0;
    for (int fault = 0; fault < kFaults; ++fault) {
      const double sound = days_until(random, kind.rate_per_day);
      phase = std::fmod(phase + sound, days);
      const double noticed = kind.noticed_per_day > 0 ? days_until(random, kind.noticed_per_day)
                                                      : std::numeric_limits<double>::infinity();
      double found = days - phase;
      while (found < noticed && !random.chance(kind.chance_found)) found += days;
      const double there = std::min(found, noticed);
      phase = found <= noticed || !fixed_days ? 0 : std::fmod(phase + there, days);
      unknown += there;
      all += sound + there;
    }
    shares.push_back(unknown / all);
    delays.push_back(unknown / kFaults);
  }
  return {mean_of(shares), mean_of(delays)};
}

TEST(Delay, EqualsASimulationOfChecksAndNoticing) {
  std::uint64_t seed = 1;
  for (const Unrevealed& kind : kKinds) {
    for (const double days : {7.0, 30.0}) {
      const Simulated drawn = simulated(kind, days, true, seed++);
      EXPECT_NEAR(undetected_share(kind, days), drawn.share.value, 4 * drawn.share.error);
      EXPECT_NEAR(undetected_days(kind, days), drawn.delay.value, 4 * drawn.delay.error);
    }
  }
}

/// Mean delay if the interval begins anew at each repair, so that a fault begins at day t of it
/// with density rate e^(-rate t) / (1 - e^(-rate T)).
double restarted_days(const Unrevealed& kind, double days) {
  const double n = kind.noticed_per_day;
  const double missed = 1 - kind.chance_found;
  const double rest = -std::expm1(-n * days) / n / (1 - missed * std::exp(-n * days));
  const auto to_go = [&](double t) {
    const double left = days - t;
    return kind.rate_per_day * std::exp(-kind.rate_per_day * t) /
           -std::expm1(-kind.rate_per_day * days) *
           (-std::expm1(-n * left) / n + std::exp(-n * left) * missed * rest);
  };
  return integral(to_go, 0, days);
}

// The other reading of "every T days". It differs only where a fault is noticed between checks and
// the next begins within the same interval: hardly at all where faults are rare.
TEST(Delay, IsNearlyTheSameIfTheIntervalBeginsAnewAtARepair) {
  for (const Unrevealed& kind : {Unrevealed{.0005, .9, .05, 0}, Unrevealed{.001, .3, .2, 0}}) {
    const double restarted = restarted_days(kind, 30);
    EXPECT_NEAR(undetected_days(kind, 30) / restarted, 1, .01);
  }
  const Unrevealed often{.2, .9, .3, 0};
  const Simulated drawn = simulated(often, 7, false, 99);
  const double restarted = restarted_days(often, 7);
  EXPECT_NEAR(restarted, drawn.delay.value, 4 * drawn.delay.error);
  EXPECT_GT(std::abs(undetected_days(often, 7) - restarted), 8 * drawn.delay.error);
}

/// Expected cost until the first fault is found, c1 a check and c2 a day of delay (Barlow &
/// Proschan): (c1 + c2 T) / (1 - e^(-rate T)) - c2 / rate.
double until_found(double rate, double c1, double c2, double days) {
  return c1 / -std::expm1(-rate * days) + c2 * undetected_days(quiet(rate), days);
}

// Derived: T*, the square-root rule, least cost / c2. The optimum solves e^(rate T) - rate T - 1 =
// rate c1 / c2, and the least cost is c1 + c2 T*.
TEST(Delay, GivesTheOptimumUntilTheFirstDetection) {
  struct Row {
    double rate, ratio, best, rule, cost;
  };
  for (const Row& row :
       {Row{1.0 / 500, 10, 96.774854, 100, 106.774854},
        Row{1.0 / 500, 1, 31.292927, 31.622777, 32.292927},
        Row{1.0 / 1000, 10, 138.165122, 141.421356, 148.165122},
        Row{.01, 5, 30.040326, 31.622777, 35.040326}, Row{1, .1, .416221, .447214, .516221},
        Row{1.0 / 365, .5, 18.939750, 19.104973, 19.439750}}) {
    const double best = root(
        [&](double days) {
          return std::expm1(row.rate * days) - row.rate * days - row.rate * row.ratio;
        },
        0, 1000);
    EXPECT_NEAR(best, row.best, .6e-6);
    EXPECT_NEAR(std::sqrt(2 * row.ratio / row.rate), row.rule, .6e-6);
    const double cost = until_found(row.rate, row.ratio, 1, best);
    EXPECT_NEAR(cost, row.cost, .6e-6);
    EXPECT_NEAR(cost, row.ratio + best, 1e-9);
    EXPECT_GT(until_found(row.rate, row.ratio, 1, best * 1.01), cost);
    EXPECT_GT(until_found(row.rate, row.ratio, 1, best * .99), cost);
  }
}

// Per day in the long run, one kind of fault, found surely: with x = rate T the derivative is zero
// where 1 - (1 + x) e^(-x) = rate c1 / c2 (derived), and then the cost is c2 (1 - e^(-x)).
TEST(Cheapest, SolvesTheOptimumEquationOfOneFault) {
  for (const double rate : {1.0 / 500, .01, .2}) {
    for (const double check : {.001, .1, 1.0}) {
      const double c2 = 2;
      const double x =
          root([&](double at) { return 1 - (1 + at) * std::exp(-at) - rate * check / c2; }, 0, 50);
      const Interval found = cheapest_interval(check, {quiet(rate, 1, c2)}, .01, 1000);
      EXPECT_NEAR(found.days * rate / x, 1, 1e-6) << rate << " " << check;
      EXPECT_NEAR(found.cost_per_day, -c2 * std::expm1(-x), 1e-11);
    }
  }
}

// The square-root rule for many rare kinds together: T = sqrt(2 c / sum of rate * cost), and with
// imperfect checks it is the same, for T (1/b - 1/2) grows with T.
TEST(Cheapest, OfRareFaultsIsNearTheSquareRootRule) {
  const std::vector<Unrevealed> faults = {quiet(1e-5, 1, 20), quiet(3e-5, 1, 5),
                                          quiet(2e-6, 1, 300)};
  const double rule = std::sqrt(2 * 1.5 / (1e-5 * 20 + 3e-5 * 5 + 2e-6 * 300));
  EXPECT_NEAR(cheapest_interval(1.5, faults, 1, 1000).days / rule, 1, 1e-3);
}

TEST(Cheapest, IsNoDearerThanAnyOfManyIntervals) {
  Random random(7);
  for (int trial = 0; trial < 100; ++trial) {
    std::vector<Unrevealed> faults;
    for (std::uint32_t count = 1 + random.below(6); count > 0; --count) {
      faults.push_back({std::pow(10, -5 + 4 * random.uniform()), .05 + .95 * random.uniform(),
                        random.chance(.5) ? 0 : std::pow(10, -3 + 4 * random.uniform()),
                        std::pow(10, 3 * random.uniform())});
    }
    const double check = std::pow(10, -2 + 3 * random.uniform());
    const Interval best = cheapest_interval(check, faults, .5, 730);
    ASSERT_GE(best.days, .5);
    ASSERT_LE(best.days, 730);
    EXPECT_NEAR(best.cost_per_day, cost_per_day(check, faults, best.days), 1e-12 * check);
    for (int step = 0; step <= 5000; ++step) {
      const double days = .5 * std::pow(730 / .5, step / 5000.0);
      EXPECT_GE(cost_per_day(check, faults, days), best.cost_per_day * (1 - 1e-12));
    }
  }
}

// The proof is in docs/mathematics.md 7.2; here the cost is looked at, with rates that lie as far
// apart as they can.
TEST(Cheapest, HasOneValleyWhateverTheFaults) {
  Random random(8);
  int valleys = 0;
  for (int trial = 0; trial < 300; ++trial) {
    std::vector<Unrevealed> faults;
    for (std::uint32_t count = 2 + random.below(4); count > 0; --count) {
      faults.push_back({std::pow(10, -6 + 7 * random.uniform()), random.uniform(),
                        random.chance(.5) ? 0 : std::pow(10, -5 + 6 * random.uniform()),
                        std::pow(10, -2 + 6 * random.uniform())});
    }
    double last = cost_per_day(1, faults, .001);
    bool risen = false;
    for (int step = 1; step <= 1000; ++step) {
      const double cost = cost_per_day(1, faults, .001 * std::pow(1e7, step / 1000.0));
      if (cost > last * (1 + 1e-13)) {
        valleys += risen ? 0 : 1;
        risen = true;
      }
      ASSERT_FALSE(risen && cost < last * (1 - 1e-13)) << trial << " " << step;
      last = cost;
    }
  }
  EXPECT_GT(valleys, 200);  // the others fall all the way
}

TEST(Cheapest, EndsAtTheLimitsWhereTheyAreCheapest) {
  EXPECT_EQ(cheapest_interval(0, {quiet(.01, 1, 5)}, 1, 100).days, 1);
  EXPECT_EQ(cheapest_interval(3, {}, 1, 100).days, 100);
  EXPECT_EQ(cheapest_interval(3, {}, 1, 100).cost_per_day, .03);
  EXPECT_EQ(cheapest_interval(0, {}, 1, 100).days, 100);
  EXPECT_EQ(cheapest_interval(3, {quiet(.01, 1, 5)}, 7, 7).days, 7);
  // A check dearer than a fault could ever be is never worth it.
  EXPECT_EQ(cheapest_interval(1000, {quiet(.01, 1, 5)}, 1, 1e5).days, 1e5);
}

}  // namespace
}  // namespace whichlink::upkeep
