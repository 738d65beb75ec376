// A stock for one season. L. Snyder & Z.-J. Shen, Fundamentals of Supply Chain Theory, 2nd ed.,
// 2019, chapter 4; the numbers seen in the documentation of the textbook's companion code. Two of
// them the source found by quadrature: they are asserted to 1e-7.

#include "upkeep/newsvendor.h"

#include <gtest/gtest.h>

#include <boost/math/distributions/exponential.hpp>
#include <boost/math/distributions/gamma.hpp>
#include <boost/math/distributions/lognormal.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/uniform.hpp>

#include "upkeep/base_stock.h"
#include "upkeep/support.h"

namespace whichlink::upkeep {
namespace {

using boost::math::lognormal;
using boost::math::normal;
using boost::math::poisson;

// Example 4.3: holding .18, lacking .70, demand normal with mean 50 and deviation 8.
TEST(Newsvendor, OfNormalDemandIsThePublishedOne) {
  const normal demand(50, 8);
  const double level = newsvendor_level(demand, .18, .70);
  EXPECT_NEAR(level, 56.60395592743389, 1e-9);
  EXPECT_NEAR(newsvendor_cost(demand, level, .18, .70), 1.9976051931766445, 1e-9);
  EXPECT_NEAR(newsvendor_cost(demand, 60, .18, .70), 2.156131552870387, 1e-9);  // example 4.1
  EXPECT_NEAR(newsvendor_cost(demand, 40, .18, .70), 7.35613154776623, 1e-7);   // by quadrature
  EXPECT_NEAR(newsvendor_cost(demand, 40, .18, .70), 7.356131552870386, 1e-9);  // derived
}

// The same costs, Poisson with mean 50; example 4.7: mean 6, holding 1, lacking 4.
TEST(Newsvendor, OfPoissonDemandIsThePublishedOne) {
  EXPECT_EQ(newsvendor_level(poisson(50), .18, .70), 56);
  EXPECT_NEAR(newsvendor_cost(poisson(50), 56, .18, .70), 1.797235211809178, 1e-9);
  EXPECT_EQ(newsvendor_level(poisson(6), 1, 4), 8);
  EXPECT_NEAR(newsvendor_cost(poisson(6), 8, 1, 4), 3.5701069457709416, 1e-9);
  EXPECT_NEAR(newsvendor_cost(poisson(6), 5, 1, 4), 6.590296024616343, 1e-9);
}

// Problem 4.8 (b): lognormal (6, .3), holding 1, lacking .1765. The cost by quadrature, and
// derived.
TEST(Newsvendor, OfLognormalDemandIsThePublishedOne) {
  const lognormal demand(6, .3);
  const double level = newsvendor_level(demand, 1, .1765);
  EXPECT_NEAR(level, 295.6266448071368, 1e-9);
  EXPECT_NEAR(newsvendor_cost(demand, level, 1, .1765), 29.44254, .5e-5);
  EXPECT_NEAR(newsvendor_cost(demand, level, 1, .1765), 29.442543582, 1e-7);
}

// E max(0, X - s) by formulas of each distribution (from memory), and s - mean + that.
TEST(Newsvendor, PartialMeansAreThoseOfTheClosedForms) {
  const auto check = [](const auto& demand, double level, double lacks) {
    const double mean = boost::math::mean(demand);
    const Partial means = partial_means(demand, level);
    EXPECT_NEAR(means.lacks / lacks, 1, 1e-10) << level;
    EXPECT_NEAR(means.left, level - mean + lacks, 1e-11 * (std::abs(level) + mean)) << level;
  };
  for (const double level : {-20.0, 3.0, 9.5, 10.0, 14.0, 25.0}) {
    const normal plain;
    const double z = (level - 10) / 3;
    const double tail = boost::math::cdf(boost::math::complement(plain, z));
    check(normal(10, 3), level, 3 * boost::math::pdf(plain, z) - (level - 10) * tail);
  }
  for (const double level : {.001, 1.0, 4.0, 30.0})
    check(boost::math::exponential(.5), level, std::exp(-.5 * level) / .5);
  for (const double level : {.5, 3.0, 7.0, 40.0}) {
    const boost::math::gamma_distribution<> one_more(3.5, 2);
    const boost::math::gamma_distribution<> demand(2.5, 2);
    check(demand, level,
          5 * boost::math::cdf(boost::math::complement(one_more, level)) -
              level * boost::math::cdf(boost::math::complement(demand, level)));
  }
  for (const double level : {2.0, 3.0, 5.9})
    check(boost::math::uniform(2, 6), level, (6 - level) * (6 - level) / 8);
  for (const double level : {1.0, 400.0, 900.0}) {
    const normal plain;
    const double d = (6 - std::log(level)) / .3;
    check(
        lognormal(6, .3), level,
        std::exp(6 + .045) * boost::math::cdf(plain, d + .3) - level * boost::math::cdf(plain, d));
  }
}

TEST(Newsvendor, NothingLacksAboveAndNothingIsLeftBelowTheSupport) {
  const Partial above = partial_means(boost::math::uniform(2, 6), 9);
  EXPECT_EQ(above.lacks, 0);
  EXPECT_NEAR(above.left, 5, 1e-12);
  const Partial below = partial_means(boost::math::uniform(2, 6), 1);
  EXPECT_NEAR(below.lacks, 3, 1e-12);
  EXPECT_EQ(below.left, 0);
  const Partial all = partial_means(boost::math::binomial(5, .3), 5);
  EXPECT_EQ(all.lacks, 0);
  EXPECT_NEAR(all.left, 3.5, 1e-13);
  const Partial more = partial_means(boost::math::binomial(5, .3), 8);
  EXPECT_EQ(more.lacks, 0);
  EXPECT_NEAR(more.left, 6.5, 1e-13);
}

// Quantiles of whole numbers are rounded outwards by the library: the trap of chances below a half.
TEST(Newsvendor, LevelOfWholeNumbersIsTheCheapestOfAll) {
  const auto check = [](const auto& demand) {
    for (const double lacking : {.01, .2, .5, .99, 1.0, 1.01, 3.0, 50.0, 1e4}) {
      double best = 0;
      for (double level = 1; level < 120; ++level) {
        if (newsvendor_cost(demand, level, 1, lacking) < newsvendor_cost(demand, best, 1, lacking))
          best = level;
      }
      EXPECT_EQ(newsvendor_level(demand, 1, lacking), best) << lacking;
    }
  };
  check(poisson(.1));
  check(poisson(6));
  check(boost::math::negative_binomial(4, 3309.0 / (3309 + 2160)));
  check(boost::math::geometric(.3));
  check(boost::math::binomial(40, .2));
}

// The same numbers as a stock that is filled up at once.
TEST(Newsvendor, OfWholeNumbersIsTheBaseStockOfTheSameDemand) {
  for (const double mean : {.3, 6.0, 50.0}) {
    const Demand demand = Demand::poisson(mean);
    for (std::size_t level = 0; level < 90; ++level) {
      const double cost = newsvendor_cost(poisson(mean), static_cast<double>(level), .18, .70);
      EXPECT_NEAR(cost_of_level(demand, level, .18, .70) / cost, 1, 1e-11);
    }
  }
  const Gamma rate{2.5, 4};
  const boost::math::negative_binomial count(2.5, 4.0 / (4 + 6));
  for (std::size_t level = 0; level < 40; ++level) {
    const Partial means = partial_means(count, static_cast<double>(level));
    const Demand demand({{rate, 3}}, 2);
    EXPECT_NEAR(demand.expected_short(level) / means.lacks, 1, 1e-11);
    EXPECT_NEAR(demand.expected_left(level), means.left, 1e-12 * (1 + means.left));
  }
}

}  // namespace
}  // namespace whichlink::upkeep
