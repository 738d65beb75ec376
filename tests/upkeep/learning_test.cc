// What a record says of a rate. A. Gelman et al., Bayesian Data Analysis, 3rd ed., 2013, sections
// 2.6 and 2.7: seen, in full text. NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.5, 8.3.1.5
// and 8.4.6: formulas seen, the numbers of the example from memory; hours there, years here.

#include "upkeep/learning.h"

#include <gtest/gtest.h>

#include <array>

#include "upkeep/support.h"

namespace whichlink::upkeep {
namespace {

// Deaths from asthma in a city of 200,000, in 100,000s of persons and years. Published to two
// digits; more are derived.
TEST(Gamma, AsthmaRatesAreThePublishedOnes) {
  const Gamma prior{3, 5};
  EXPECT_NEAR(prior.mean(), .6, 1e-15);
  EXPECT_NEAR(prior.quantile(.975), 1.44, .005);
  EXPECT_NEAR(prior.quantile(.975), 1.444938, .5e-6);
  EXPECT_NEAR(prior.cdf(1.44), .974526, .5e-6);

  const Gamma one_year = prior.updated(3, 2);
  EXPECT_EQ(one_year.shape, 6);
  EXPECT_EQ(one_year.exposure, 7);
  EXPECT_NEAR(one_year.mean(), .86, .005);
  EXPECT_NEAR(1 - one_year.cdf(1), .30, .005);
  EXPECT_NEAR(1 - one_year.cdf(1), .300708, .5e-6);

  const Gamma ten_years = prior.updated(30, 20);
  EXPECT_NEAR(ten_years.mean(), 1.32, 1e-15);
  EXPECT_NEAR(1 - ten_years.cdf(1), .93, .005);
  EXPECT_NEAR(1 - ten_years.cdf(1), .928544, .5e-6);
}

// Kidney cancer in counties, per person and year.
TEST(Gamma, KidneyRatesAreThePublishedOnes) {
  const Gamma prior{20, 430000};
  EXPECT_NEAR(prior.mean(), 4.65e-5, .005e-5);
  const double small = 1000 * 10;
  EXPECT_NEAR(prior.updated(0, small).mean(), 4.55e-5, .005e-5);
  EXPECT_NEAR(prior.updated(1, small).mean(), 4.77e-5, .005e-5);
  EXPECT_NEAR(prior.updated(2, small).mean(), 5.00e-5, .005e-5);
  const double large = 1e6 * 10;
  EXPECT_NEAR(prior.updated(393, large).mean(), 3.96e-5, .005e-5);
  // Printed 5.41e-5, which is cut off and not rounded; derived.
  EXPECT_NEAR(prior.updated(545, large).mean(), 5.4171e-5, .00005e-5);
}

// What a small county will see is negative binomial (20, 43). The book drew 500 counties: 319, 141,
// 33 and 5 with none to three deaths; the exact chances are derived.
TEST(Gamma, KidneyCountsAreNegativeBinomial) {
  const Gamma prior{20, 430000};
  const std::array<double, 4> exact = {.631416, .287007, .068490, .011415};
  const std::array<double, 4> drawn = {319, 141, 33, 5};
  for (std::size_t count = 0; count < exact.size(); ++count) {
    const double chance = prior.chance_of(count, 10000);
    EXPECT_NEAR(chance, exact[count], .5e-6) << count;
    EXPECT_NEAR(drawn[count], 500 * chance, 4 * std::sqrt(500 * chance * (1 - chance))) << count;
  }
  EXPECT_NEAR(prior.chance_of_none(10000), .631416, .5e-6);
}

std::size_t least_with(const Gamma& rate, double item_years, double chance) {
  std::size_t count = 0;
  while (count < 10000 && rate.chance_of_at_most(count, item_years) < chance) ++count;
  return count;
}

// The book's median 473 and middle half 393 to 545 of a large county are from a simulation; the
// exact quantiles are 457 and 390 to 532 (derived).
TEST(Gamma, LargeCountyHasTheExactQuantilesAndNotTheDrawnOnes) {
  const Gamma prior{20, 430000};
  EXPECT_EQ(least_with(prior, 1e7, .5), 457U);
  EXPECT_EQ(least_with(prior, 1e7, .25), 390U);
  EXPECT_EQ(least_with(prior, 1e7, .75), 532U);
}

// Prior 2 failures in 1400 h; a goal of 600 h at 80 %, two failures allowed.
TEST(Gamma, TestTimeAndLimitsOfAMeanLifeAreThePublishedOnes) {
  const double test_time = 600 * Gamma{2 + 2, 1}.quantile(.8) - 1400;
  EXPECT_NEAR(test_time, 1909, .5);
  EXPECT_NEAR(test_time, 1909.027, .0005);

  const Gamma after = Gamma{2, 1400}.updated(2, 1909);
  EXPECT_EQ(after.shape, 4);
  EXPECT_EQ(after.exposure, 3309);
  EXPECT_NEAR(1 / after.median(), 901, .5);
  EXPECT_NEAR(1 / after.median(), 901.129, .0005);
  EXPECT_NEAR(1 / after.quantile(.8), 600, .5);
  EXPECT_NEAR(1 / after.quantile(.8), 599.995, .0005);
  EXPECT_NEAR(1 / after.quantile(.95), 427, .5);
  EXPECT_NEAR(1 / after.quantile(.95), 426.766, .0005);
  EXPECT_NEAR(1 / after.quantile(.05), 2422, .5);
  EXPECT_NEAR(1 / after.quantile(.05), 2421.837, .0005);
  EXPECT_NEAR(after.cdf(1.0 / 600), .80, .005);
  EXPECT_NEAR(after.cdf(1.0 / 600), .799995, .5e-6);
}

// A median of 600 h, and 95 % sure of 250 h: a = 2.863, b = 1522.46. The book found b with the
// rounded a; with all digits it is 1522.506 (derived).
TEST(Gamma, ElicitedFromTwoQuantilesIsThePublishedOne) {
  const Gamma judged = gamma_from_quantiles(.5, 1.0 / 600, .95, 1.0 / 250);
  EXPECT_NEAR(judged.shape, 2.863, .0005);
  EXPECT_NEAR(judged.exposure, 1522.46, .1);
  EXPECT_NEAR(judged.shape, 2.863055, .5e-6);
  EXPECT_NEAR(judged.exposure, 1522.506, .0005);
}

// Failures in 2160 h after that test; derived. With the rate taken as known, at its mean, they
// would be Poisson, and five spares would seem to do for 95 % where it takes seven.
TEST(Gamma, DoubtAboutTheRateAsksForMoreSpares) {
  const Gamma rate{4, 3309};
  const std::array<double, 8> exact = {.134016, .345735, .554784, .719913,
                                       .834044, .906167, .948895, .973003};
  for (std::size_t count = 0; count < exact.size(); ++count)
    EXPECT_NEAR(rate.chance_of_at_most(count, 2160), exact[count], .5e-6) << count;
  EXPECT_EQ(least_with(rate, 2160, .95), 7U);

  const std::array<double, 6> known = {.073457, .265256, .515656, .733593, .875855, .950145};
  const Gamma surely{rate.mean() * 1e12, 1e12};
  for (std::size_t count = 0; count < known.size(); ++count)
    EXPECT_NEAR(surely.chance_of_at_most(count, 2160), known[count], 1e-6) << count;
  EXPECT_EQ(least_with(surely, 2160, .95), 5U);
}

double log_density(const Gamma& rate, double x) {
  return rate.shape * std::log(rate.exposure) + (rate.shape - 1) * std::log(x) - rate.exposure * x -
         std::lgamma(rate.shape);
}

TEST(Gamma, EqualsIntegrationOfItsDensity) {
  for (const Gamma& rate : {Gamma{1, 3}, Gamma{2.5, .7}, Gamma{6, 7}, Gamma{33, 25}}) {
    const auto density = [&](double x) { return x > 0 ? std::exp(log_density(rate, x)) : 0; };
    for (const double chance : {.05, .5, .9}) {
      const double x = rate.quantile(chance);
      // In x = y^4, to be smooth at 0.
      const double below = integral(
          [&](double y) { return 4 * y * y * y * density(y * y * y * y); }, 0, std::pow(x, .25));
      EXPECT_NEAR(below, chance, 1e-10);
      EXPECT_NEAR(rate.cdf(x), chance, 1e-13);
    }
    EXPECT_EQ(rate.cdf(0), 0);
    EXPECT_EQ(rate.cdf(-1), 0);
  }
}

// Counts are Poisson of a rate that is drawn from the belief.
TEST(Gamma, CountsAreAMixtureOfPoissons) {
  for (const Gamma& rate : {Gamma{2.5, .7}, Gamma{6, 7}, Gamma{33, 25}}) {
    for (const double years : {.1, 2.0, 30.0}) {
      double sum = 0;
      for (std::size_t count = 0; count < 12; ++count) {
        const auto k = static_cast<double>(count);
        const auto both = [&](double y) {
          const double x = y * y;
          if (x <= 0) return 0.0;
          return 2 * y *
                 std::exp(log_density(rate, x) - x * years + k * std::log(x * years) -
                          std::lgamma(k + 1));
        };
        const double chance = integral(both, 0, std::sqrt(rate.quantile(1 - 1e-15)));
        EXPECT_NEAR(rate.chance_of(count, years), chance, 1e-9) << years << " " << count;
        sum += rate.chance_of(count, years);
        EXPECT_NEAR(rate.chance_of_at_most(count, years), sum, 1e-12) << years << " " << count;
      }
      EXPECT_NEAR(rate.chance_of_none(years), rate.chance_of(0, years), 1e-13);
    }
  }
}

TEST(Gamma, CountsOfNoTimeAreNone) {
  const Gamma rate{.4, 12};
  EXPECT_EQ(rate.chance_of_none(0), 1);
  EXPECT_NEAR(rate.chance_of(0, 0), 1, 1e-15);
  EXPECT_EQ(rate.chance_of(1, 0), 0);
  EXPECT_EQ(rate.chance_of_at_most(0, 0), 1);
  // To first order in a time too short to change 1: shape * t / exposure.
  EXPECT_NEAR(rate.chance_of(1, 1e-20) / (.4 * 1e-20 / 12), 1, 1e-13);
}

// (exposure / t)^shape * G(k + shape) / (k! G(shape)), where t is so long that a count is rare.
TEST(Gamma, CountsOfEndlessTimeAreNotSmall) {
  const Gamma rate{.4, 12};
  const double expected =
      std::pow(12 / 1e20, .4) * std::exp(std::lgamma(3.4) - std::lgamma(4.0) - std::lgamma(.4));
  EXPECT_NEAR(rate.chance_of(3, 1e20) / expected, 1, 1e-12);
  EXPECT_NEAR(rate.chance_of_none(1e20) / rate.chance_of(0, 1e20), 1, 1e-12);
}

// Rates are drawn from the prior and counts from the rates; among the draws that had the count
// that was seen, the rates are spread as the update says.
TEST(Gamma, UpdateIsWhatIsLeftOfASimulation) {
  const Gamma prior{3, 5};
  const Gamma after = prior.updated(4, 6);
  Random random(11);
  std::vector<double> rates;
  while (rates.size() < 20000) {
    double rate = 0;  // of shape 3: the third event of a unit Poisson process
    for (int event = 0; event < 3; ++event) rate += days_until(random, prior.exposure);
    int count = 0;
    for (double year = days_until(random, rate); year < 6; year += days_until(random, rate))
      ++count;
    if (count == 4) rates.push_back(rate);
  }
  const Mean mean = mean_of(rates);
  EXPECT_NEAR(after.mean(), mean.value, 4 * mean.error);
  for (const double x : {.3, .6, .9, 1.2}) {
    std::vector<double> below;
    below.reserve(rates.size());
    for (const double rate : rates) below.push_back(rate <= x ? 1 : 0);
    const Mean share = mean_of(below);
    EXPECT_NEAR(after.cdf(x), share.value, 4 * share.error) << x;
  }
}

TEST(Gamma, UpdatesInPartsAddUp) {
  const Gamma whole = Gamma{1.5, 40}.updated(2, 12);
  const Gamma parts = Gamma{1.5, 40}.updated(.25, 4).updated(0, 5).updated(1.75, 3);
  EXPECT_NEAR(whole.shape, parts.shape, 1e-15);
  EXPECT_NEAR(whole.exposure, parts.exposure, 1e-13);
}

// Not sure whether there was a fault: the belief is really a mixture of both. A share of a fault
// gives its mean, and tails that are a little too thin.
TEST(Gamma, ShareOfAFaultKeepsTheMeanAndIsTooSure) {
  const Gamma prior{1.5, 40};
  const double share = .4;
  const Gamma with = prior.updated(1, 12);
  const Gamma without = prior.updated(0, 12);
  const Gamma used = prior.updated(share, 12);
  EXPECT_NEAR(used.mean(), share * with.mean() + (1 - share) * without.mean(), 1e-15);
  const auto mixed = [&](double x) { return share * with.cdf(x) + (1 - share) * without.cdf(x); };
  EXPECT_GT(mixed(used.quantile(.05)), .05);
  EXPECT_LT(mixed(used.quantile(.95)), .95);
  // The variance falls short by share (1 - share) / exposure^2: 12.6 % of it here.
  const auto square = [](const Gamma& rate) {
    return rate.shape * (rate.shape + 1) / (rate.exposure * rate.exposure);
  };
  const double more = share * square(with) + (1 - share) * square(without) - square(used);
  EXPECT_NEAR(more, share * (1 - share) / (52.0 * 52), 1e-15);
  EXPECT_NEAR(more / (used.shape / (52.0 * 52)), .126, .0005);
}

TEST(Gamma, JudgedMeetsTheMedianAndTheRatio) {
  for (const double ratio : {1.0001, 1.01, 2.0, 10.0, 100.0, 1e4, 1e6}) {
    const Gamma judged = gamma_from(.03, .03 * std::sqrt(ratio), .03 * ratio);
    EXPECT_NEAR(judged.median() / (.03 * std::sqrt(ratio)), 1, 1e-12) << ratio;
    const double met = std::log(judged.quantile(.95) / judged.quantile(.05));
    EXPECT_NEAR(met / std::log(ratio), 1, 1e-9) << ratio;
  }
}

// A very narrow judgement is nearly normal: (high - low) / mid = 2 * 1.644854 / sqrt(shape).
TEST(Gamma, JudgedNarrowlyIsNearlyNormal) {
  const double shape = gamma_from(1, 1.00005, 1.0001).shape;
  EXPECT_NEAR(shape / std::pow(2 * 1.6448536 / 1e-4, 2), 1, 2e-4);
}

TEST(Gamma, ShapeFallsAsTheJudgementWidens) {
  double last = kMostShape;
  for (int step = 0; step <= 400; ++step) {
    const double ratio = 1 + 1e-4 * std::pow(1e10, step / 400.0);
    const double shape = gamma_from(1, 1, ratio).shape;
    EXPECT_LT(shape, last) << ratio;
    last = shape;
  }
  EXPECT_GT(last, kLeastShape);
}

TEST(Gamma, RecoversItsOwnQuantiles) {
  for (const Gamma& rate : {Gamma{.1, 3}, Gamma{.5, 200}, Gamma{4, 3309}, Gamma{1e5, 1e3}}) {
    for (const auto& [p1, p2] : {std::pair{.05, .95}, std::pair{.5, .9}, std::pair{.1, .5}}) {
      const Gamma again = gamma_from_quantiles(p1, rate.quantile(p1), p2, rate.quantile(p2));
      EXPECT_NEAR(again.shape / rate.shape, 1, 1e-9);
      EXPECT_NEAR(again.exposure / rate.exposure, 1, 1e-9);
    }
  }
}

TEST(Gamma, BeyondTheLimitsOfShapeIsAtThem) {
  const Gamma narrow = gamma_from(1, 1, 1 + 1e-9);
  EXPECT_EQ(narrow.shape, kMostShape);
  EXPECT_NEAR(narrow.median(), 1, 1e-12);
  const Gamma wide = gamma_from(1e-40, 1, 1e40);
  EXPECT_EQ(wide.shape, kLeastShape);
  EXPECT_NEAR(wide.median(), 1, 1e-12);
  // Between the limits that the header tells, and beyond them.
  EXPECT_LT(gamma_from(1, 1, 1.00004).shape, kMostShape);
  EXPECT_EQ(gamma_from(1, 1, 1.00003).shape, kMostShape);
  EXPECT_GT(gamma_from(1, 1, 1e63).shape, kLeastShape);
  EXPECT_EQ(gamma_from(1, 1, 1e65).shape, kLeastShape);
  // Both quantiles missed by the same factor.
  const Gamma missed = gamma_from_quantiles(.05, 1e-50, .95, 1e50);
  EXPECT_NEAR(std::log(missed.quantile(.05) / 1e-50), std::log(1e50 / missed.quantile(.95)), 1e-6);
  // Quantiles that are no numbers any more do not upset the search.
  EXPECT_GT(gamma_from_quantiles(1e-9, 1, .5, 1e12).shape, kLeastShape);
  const Gamma tail = gamma_from_quantiles(1e-9, -std::log1p(-1e-9), 1e-8, -std::log1p(-1e-8));
  EXPECT_NEAR(tail.shape, 1, 1e-9);
  EXPECT_NEAR(tail.exposure, 1, 1e-7);
}

}  // namespace
}  // namespace whichlink::upkeep
