// How many spares are asked for. Published: the spares nomograph of B. Blanchard, Logistics
// Engineering and Management (inputs seen, the answer from memory), a Poisson example of
// MIL-HDBK-338B, 1998, section 5 (seen on a secondary page), a stock of transistors (an exercise of
// the University of Southampton, seen), the negative binomial counts of A. Gelman et al., Bayesian
// Data Analysis, 3rd ed., 2013, section 2.7 (seen). More digits, and what it says beside, derived.

#include "upkeep/demand.h"

#include <gtest/gtest.h>

#include <array>
#include <boost/math/distributions/poisson.hpp>
#include <limits>

#include "upkeep/spares.h"

namespace whichlink::upkeep {
namespace {

using boost::math::poisson;

// 20 parts, .1 failures in 1000 h, three months of 24 h: eight spares give 95 % protection.
TEST(Demand, NomographAsksForEightSpares) {
  const Demand demand = Demand::poisson(20 * .1 / 1000 * 2160);
  EXPECT_NEAR(demand.mean(), 4.32, 1e-14);
  EXPECT_EQ(demand.least_for(.95), 8U);
  EXPECT_NEAR(demand.chance_of_at_most(7), .927496, .5e-6);
  EXPECT_NEAR(demand.chance_of_at_most(8), .967508, .5e-6);
  // A year of 8760 h in four, instead of months of 30 days.
  const Demand quarter = Demand::poisson(20 * .1 / 1000 * 2190);
  EXPECT_EQ(quarter.least_for(.95), 8U);
  EXPECT_NEAR(quarter.chance_of_at_most(7), .922967, .5e-6);
  EXPECT_NEAR(quarter.chance_of_at_most(8), .965046, .5e-6);
  // The target of a published drawing of the nomograph (seen).
  EXPECT_EQ(demand.least_for(.85), 6U);
  EXPECT_NEAR(demand.chance_of_at_most(6), .853398, .5e-6);
}

// .001 failures an hour, 500 h, at most two: .986; ten elements, 50 h.
TEST(Demand, LampsLastWithThePublishedChance) {
  const Demand lamps = Demand::poisson(.001 * 500);
  EXPECT_NEAR(lamps.chance_of_at_most(2), .986, .0005);
  EXPECT_NEAR(lamps.chance_of_at_most(2), .985612, .5e-6);
  const std::array<double, 4> exact = {.606531, .303265, .075816, .012636};
  for (std::size_t count = 0; count < exact.size(); ++count)
    EXPECT_NEAR(lamps.chance_of(count), exact[count], .5e-6) << count;
}

// Two a week for 52 weeks, at most 5 % chance of running out: at least 121.
TEST(Demand, TransistorStockIsThePublishedOne) {
  const Demand demand = Demand::poisson(2 * 52);
  EXPECT_EQ(demand.least_for(.95), 121U);
  EXPECT_NEAR(demand.chance_of_more(120), .055498, .5e-6);
  EXPECT_NEAR(demand.chance_of_more(121), .045810, .5e-6);
  // The published way, a normal approximation, leads there as well.
  const double normal = demand.mean() + 1.645 * std::sqrt(demand.variance());
  EXPECT_NEAR(normal, 120.776, .0005);
  EXPECT_EQ(std::ceil(normal), 121);
}

// Derived: expected backorders of stocks of 0, 1, 2 ...
TEST(Demand, ExpectedShortHasTheDerivedDigits) {
  struct Row {
    double mean;
    std::vector<double> lacking;
  };
  const std::vector<Row> rows = {
      {.5, {.5, .106531, .016327, .001939, .000187}},
      {1, {1, .367879, .103638, .023337, .004349, .000689}},
      {2.5, {2.5, 1.582085, .869382, .413196, .170772, .061950}},
      {4.32,
       {4.32, 3.333300, 2.404055, 1.598915, .972483, .539059, .272391, .125789, .053285, .020793}}};
  for (const Row& row : rows) {
    const Demand demand = Demand::poisson(row.mean);
    for (std::size_t stock = 0; stock < row.lacking.size(); ++stock)
      EXPECT_NEAR(demand.expected_short(stock), row.lacking[stock], .5e-6)
          << row.mean << " " << stock;
  }
}

// Short of one more is less by the chance that it is used; what is left is stock - mean + short.
// (The second: equation 29 of a chapter on base-stock contracts, seen.)
TEST(Demand, KeepsTheIdentitiesOfExpectedShort) {
  Random random(11);
  for (int round = 0; round < 200; ++round) {
    const Demand demand(random_streams(random, 4), between(random, .1, 10));
    const double scale = 1 + demand.mean();
    EXPECT_NEAR(demand.expected_short(0), demand.mean(), 1e-11 * scale);
    EXPECT_EQ(demand.expected_left(0), 0);
    double sum = 0;
    for (std::size_t stock = 0; stock <= demand.most() + 3; ++stock) {
      const double more = demand.chance_of_more(stock);
      EXPECT_NEAR(demand.expected_short(stock + 1), demand.expected_short(stock) - more,
                  1e-13 * scale);
      EXPECT_NEAR(demand.expected_left(stock + 1),
                  demand.expected_left(stock) + demand.chance_of_at_most(stock), 1e-11 * scale);
      EXPECT_NEAR(demand.expected_left(stock),
                  static_cast<double>(stock) - demand.mean() + demand.expected_short(stock),
                  1e-11 * (scale + static_cast<double>(stock)));
      EXPECT_NEAR(demand.chance_of_at_most(stock) + more, 1, 1e-13);
      sum += demand.chance_of(stock);
    }
    EXPECT_NEAR(sum, 1, 1e-12);
  }
}

TEST(Demand, MeanAndVarianceAreThoseOfItsChances) {
  Random random(12);
  for (int round = 0; round < 200; ++round) {
    const Demand demand(random_streams(random, 5), between(random, .1, 10));
    double mean = 0;
    double square = 0;
    for (std::size_t count = 0; count <= demand.most(); ++count) {
      const auto n = static_cast<double>(count);
      mean += n * demand.chance_of(count);
      square += (n - demand.mean()) * (n - demand.mean()) * demand.chance_of(count);
    }
    EXPECT_NEAR(mean / demand.mean(), 1, 1e-11);
    EXPECT_NEAR(square / demand.variance(), 1, 1e-10);
  }
}

// Kidney cancer in a county of 1000 over ten years: published as 500 draws, 319, 141, 33 and 5 of
// which had none to three deaths; exact chances derived.
TEST(Demand, KidneyCountsAreNegativeBinomial) {
  const Demand demand({{Gamma{20, 430000}, 1000}}, 10);
  const std::array<double, 4> exact = {.631416, .287007, .068490, .011415};
  const std::array<double, 4> drawn = {319, 141, 33, 5};
  for (std::size_t count = 0; count < exact.size(); ++count) {
    const double chance = demand.chance_of(count);
    EXPECT_NEAR(chance, exact[count], .5e-6) << count;
    EXPECT_NEAR(drawn[count], 500 * chance, 4 * std::sqrt(500 * chance * (1 - chance))) << count;
  }
}

// In the county of a million; the book's 473 and 393 to 545 are from a simulation, the exact
// quantiles are derived.
TEST(Demand, LargeCountyHasTheExactQuantilesAndNotTheDrawnOnes) {
  const Demand demand({{Gamma{20, 430000}, 1e6}}, 10);
  EXPECT_EQ(demand.least_for(.5), 457U);
  EXPECT_EQ(demand.least_for(.25), 390U);
  EXPECT_EQ(demand.least_for(.75), 532U);
}

// Derived, from the posterior of an example of the NIST/SEMATECH e-Handbook, 8.4.6 (its numbers
// from memory): 2160 h, one position, 95 %. Seven spares; with the rate taken as known, five.
TEST(Demand, DoubtAboutTheRateAsksForMoreSpares) {
  const Gamma rate{4, 3309};
  const Demand unsure({{rate, 1}}, 2160);
  const std::array<double, 8> exact = {.134016, .345735, .554784, .719913,
                                       .834044, .906167, .948895, .973003};
  for (std::size_t count = 0; count < exact.size(); ++count)
    EXPECT_NEAR(unsure.chance_of_at_most(count), exact[count], .5e-6) << count;
  EXPECT_EQ(unsure.least_for(.95), 7U);

  const Demand sure = Demand::poisson(rate.mean() * 2160);
  EXPECT_NEAR(sure.mean(), 2.611061, .5e-6);
  const std::array<double, 6> known = {.073457, .265256, .515656, .733593, .875855, .950145};
  for (std::size_t count = 0; count < known.size(); ++count)
    EXPECT_NEAR(sure.chance_of_at_most(count), known[count], .5e-6) << count;
  EXPECT_EQ(sure.least_for(.95), 5U);
}

TEST(Demand, NothingIsAskedForWithoutStreamsOrTime) {
  const std::vector<Stream> streams = {{Gamma{2, 3}, 4}};
  for (const Demand& demand :
       {Demand({}, 5), Demand(streams, 0), Demand({{Gamma{2, 3}, 0}}, 5), Demand::poisson(0)}) {
    EXPECT_EQ(demand.mean(), 0);
    EXPECT_EQ(demand.variance(), 0);
    EXPECT_EQ(demand.chance_of(0), 1);
    EXPECT_EQ(demand.chance_of(1), 0);
    EXPECT_EQ(demand.chance_of_at_most(0), 1);
    EXPECT_EQ(demand.chance_of_more(0), 0);
    EXPECT_EQ(demand.expected_short(0), 0);
    EXPECT_EQ(demand.expected_left(3), 3);
    EXPECT_EQ(demand.least_for(1), 0U);
  }
  // A stream that takes nothing changes nothing.
  const Demand with({{Gamma{2, 3}, 4}, {Gamma{1, 1}, 0}}, 2);
  EXPECT_EQ(with.chance_of(3), Demand(streams, 2).chance_of(3));
}

// One after the other, by the library's distribution; relative, to the last count that matters.
TEST(Demand, EqualsConvolutionOfNegativeBinomials) {
  Random random(13);
  for (int round = 0; round < 60; ++round) {
    const std::vector<Stream> streams = random_streams(random, 6);
    const double years = between(random, .1, 5);
    const Demand demand(streams, years);
    const std::size_t last = std::min<std::size_t>(demand.most(), 800);
    const std::vector<double> chances = convolved(streams, years, last);
    for (std::size_t count = 0; count <= last; ++count) {
      if (chances[count] < 1e-20) continue;
      EXPECT_NEAR(demand.chance_of(count) / chances[count], 1, 1e-11) << round << " " << count;
    }
  }
}

TEST(Demand, OfOneStreamHasTheCountsOfItsRate) {
  for (const Gamma& rate : {Gamma{.05, 2}, Gamma{.5, .1}, Gamma{1, 1}, Gamma{7, 90},
                            Gamma{400, 1e4}, Gamma{4e12, 1e12}}) {
    const Demand demand({{rate, 2.5}}, 4);
    for (std::size_t count = 0; count < 60; ++count) {
      EXPECT_NEAR(demand.chance_of(count), rate.chance_of(count, 10), 1e-12) << count;
      EXPECT_NEAR(demand.chance_of_at_most(count), rate.chance_of_at_most(count, 10), 1e-12);
    }
  }
}

// A tail by the library, where 1 less the other side would be noise.
TEST(Demand, TailKeepsItsDigits) {
  const Demand demand = Demand::poisson(3);
  const poisson known(3);
  for (double count = 5; count <= 22; ++count) {
    const double tail = boost::math::cdf(boost::math::complement(known, count));
    ASSERT_GT(tail, 1e-15);
    EXPECT_NEAR(demand.chance_of_more(static_cast<std::size_t>(count)) / tail, 1, 1e-9) << count;
  }
}

TEST(Demand, LeavesOutLessThanItSays) {
  Random random(14);
  for (int round = 0; round < 300; ++round) {
    const Gamma rate{between(random, .05, 1e4), between(random, .01, 1e6)};
    const double years = between(random, 1e-6, 100) * rate.exposure / rate.shape;
    const Demand demand({{rate, 1}}, years);
    if (demand.most() == kMostAskedFor) continue;
    const boost::math::negative_binomial count(rate.shape, 1 / (1 + years / rate.exposure));
    const double rest =
        boost::math::cdf(boost::math::complement(count, static_cast<double>(demand.most())));
    EXPECT_LT(rest, 1e-25) << rate.shape << " " << demand.mean();
  }
}

TEST(Demand, LeastForIsTheSmallestThatIsEnough) {
  Random random(15);
  for (int round = 0; round < 200; ++round) {
    const Demand demand(random_streams(random, 3), between(random, .1, 10));
    for (const double chance : {0.0, .01, .3, .5, .9, .95, .999, 1 - 1e-12}) {
      std::size_t count = 0;
      while (demand.chance_of_at_most(count) < chance) ++count;
      EXPECT_EQ(demand.least_for(chance), count) << chance;
    }
    EXPECT_LE(demand.chance_of_more(demand.least_for(1)), 0);
  }
}

// The sum over two gamma densities of Poisson chances, with x = y^3 to be smooth at 0.
TEST(Demand, EqualsIntegrationOverItsRates) {
  const std::vector<Stream> streams = {{Gamma{1.5, 2}, 3}, {Gamma{4, 5}, .5}};
  const double years = 1.25;
  const Demand demand(streams, years);
  const auto over = [](const Gamma& rate, const auto& function) {
    const double end = std::cbrt(rate.quantile(1 - 1e-14));
    return integral(
        [&](double y) {
          if (y <= 0) return 0.0;
          const double x = y * y * y;
          const double log_density = rate.shape * std::log(rate.exposure) +
                                     (rate.shape - 1) * std::log(x) - rate.exposure * x -
                                     std::lgamma(rate.shape);
          return 3 * y * y * std::exp(log_density) * function(x);
        },
        0, end, 200);
  };
  for (const std::size_t count : {0U, 1U, 2U, 3U, 5U, 8U, 13U}) {
    const double chance = over(streams[0].rate, [&](double first) {
      return over(streams[1].rate, [&](double second) {
        const double mean = years * (first * streams[0].takes + second * streams[1].takes);
        const auto n = static_cast<double>(count);
        return std::exp(n * std::log(mean) - mean - std::lgamma(n + 1));
      });
    });
    EXPECT_NEAR(demand.chance_of(count), chance, 1e-9) << count;
  }
}

// Rates drawn, then events one after the other.
TEST(Demand, EqualsASimulation) {
  const std::vector<Stream> streams = {{Gamma{2, 3}, 4}, {Gamma{.7, 2}, 1}, {Gamma{30, 20}, .5}};
  const double years = 1.5;
  const Demand demand(streams, years);
  Random random(20240601);
  constexpr std::size_t kRounds = 200000;
  std::vector<double> counts;
  for (std::size_t round = 0; round < kRounds; ++round) {
    std::size_t count = 0;
    for (const Stream& stream : streams)
      count += drawn_count(random, drawn_rate(random, stream.rate) * stream.takes * years);
    counts.push_back(static_cast<double>(count));
  }
  const auto mean_by = [&](const auto& function) {
    std::vector<double> values;
    for (const double count : counts) values.push_back(function(count));
    return mean_of(values);
  };
  const auto near = [](double value, const Mean& drawn) {
    EXPECT_NEAR(value, drawn.value, 4 * drawn.error);
  };
  near(demand.mean(), mean_by([](double count) { return count; }));
  near(demand.variance(),
       mean_by([&](double count) { return std::pow(count - demand.mean(), 2); }));
  for (const std::size_t stock : {0U, 1U, 3U, 6U, 10U, 15U}) {
    const auto held = static_cast<double>(stock);
    near(demand.chance_of(stock), mean_by([&](double count) { return count == held ? 1.0 : 0; }));
    near(demand.chance_of_more(stock),
         mean_by([&](double count) { return count > held ? 1.0 : 0; }));
    near(demand.expected_short(stock),
         mean_by([&](double count) { return std::max(0.0, count - held); }));
    near(demand.expected_left(stock),
         mean_by([&](double count) { return std::max(0.0, held - count); }));
  }
}

// Chances of none that are 0 as a double.
TEST(Demand, StandsLargeMeans) {
  for (const double mean : {800.0, 3000.0, 10000.0}) {
    const Demand demand = Demand::poisson(mean);
    const poisson known(mean);
    ASSERT_LT(demand.most(), kMostAskedFor);
    for (const double away : {-4.0, -1.0, 0.0, 1.0, 4.0}) {
      const double count = std::floor(mean + away * std::sqrt(mean));
      const auto n = static_cast<std::size_t>(count);
      EXPECT_NEAR(demand.chance_of(n) / boost::math::pdf(known, count), 1, 1e-9) << mean;
      EXPECT_NEAR(demand.chance_of_at_most(n) / boost::math::cdf(known, count), 1, 1e-9) << mean;
    }
    EXPECT_NEAR(demand.expected_short(0) / mean, 1, 1e-11);
  }
}

// A belief so wide that counts beyond the limit are likely: smaller stocks are right all the same,
// larger ones are taken as the limit.
TEST(Demand, BeyondTheLimitSmallerStocksStayRight) {
  const Gamma rate{.5, 1};
  const double years = 20000;
  const Demand demand({{rate, 1}}, years);
  ASSERT_EQ(demand.most(), kMostAskedFor);
  EXPECT_NEAR(demand.mean(), 10000, 1e-9);
  const boost::math::negative_binomial known(rate.shape, 1 / (1 + years));
  double lacking = demand.mean();
  for (std::size_t count = 0; count <= kMostAskedFor; ++count) {
    EXPECT_NEAR(demand.expected_short(count) / lacking, 1, 1e-9);
    const double more =
        boost::math::cdf(boost::math::complement(known, static_cast<double>(count)));
    EXPECT_NEAR(demand.chance_of_more(count) / more, 1, 1e-9) << count;
    lacking -= more;
  }
  EXPECT_GT(demand.chance_of_more(kMostAskedFor), .15);
  EXPECT_EQ(demand.chance_of_more(10 * kMostAskedFor), demand.chance_of_more(kMostAskedFor));
  EXPECT_EQ(demand.expected_short(10 * kMostAskedFor), demand.expected_short(kMostAskedFor));
  std::size_t median = 0;
  while (boost::math::cdf(known, static_cast<double>(median)) < .5) ++median;
  EXPECT_EQ(demand.least_for(.5), median);
  EXPECT_EQ(demand.least_for(.99), kMostAskedFor);

  // Its limit in the middle of the likely counts, its chance of none not a number.
  const Demand middle = Demand::poisson(16300);
  ASSERT_EQ(middle.most(), kMostAskedFor);
  for (const double count : {15900.0, 16300.0, 16383.0}) {
    const auto n = static_cast<std::size_t>(count);
    EXPECT_NEAR(middle.chance_of_at_most(n) / boost::math::cdf(poisson(16300), count), 1, 1e-9);
    EXPECT_NEAR(middle.chance_of_more(n),
                boost::math::cdf(boost::math::complement(poisson(16300), count)), 1e-10);
  }

  const Demand endless = Demand::poisson(1e9);
  EXPECT_EQ(endless.chance_of_at_most(kMostAskedFor - 1), 0);
  EXPECT_EQ(endless.chance_of_more(kMostAskedFor), 1);
  EXPECT_NEAR(endless.expected_short(1000), 1e9 - 1000, 1e-3);
  EXPECT_EQ(endless.least_for(.01), kMostAskedFor);
}

TEST(Demand, StandsRatesNextToNothing) {
  const Demand demand({{Gamma{1, 1e18}, 1}, {Gamma{.02, 1e9}, 1e-3}}, 1e-3);
  EXPECT_NEAR(demand.mean() / 2.0001e-17, 1, 1e-9);
  EXPECT_NEAR(demand.expected_short(0) / demand.mean(), 1, 1e-6);
  EXPECT_EQ(demand.least_for(.999), 0U);
  const Demand none = Demand::poisson(std::numeric_limits<double>::min());
  EXPECT_EQ(none.chance_of(0), 1);
  EXPECT_EQ(none.least_for(1), 1U);
}

}  // namespace
}  // namespace whichlink::upkeep
