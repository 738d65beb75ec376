// Keeping one part. L. Snyder & Z.-J. Shen, Fundamentals of Supply Chain Theory, 2nd ed., 2019,
// chapter 4 (numbers seen in the documentation of the textbook's companion code). The rest by
// search and by playing the policy.

#include "upkeep/base_stock.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <deque>

#include "upkeep/spares.h"

namespace whichlink::upkeep {
namespace {

// Poisson with mean 50, holding .18, lacking .70; example 4.7: mean 6, holding 1, lacking 4.
TEST(BaseStock, OfPoissonDemandIsThePublishedOne) {
  const Demand fifty = Demand::poisson(50);
  EXPECT_EQ(cheapest_level(fifty, .18, .70), 56U);
  EXPECT_NEAR(cost_of_level(fifty, 56, .18, .70), 1.797235211809178, 1e-9);
  const Demand six = Demand::poisson(6);
  EXPECT_EQ(cheapest_level(six, 1, 4), 8U);
  EXPECT_NEAR(cost_of_level(six, 8, 1, 4), 3.5701069457709416, 1e-9);
  EXPECT_NEAR(cost_of_level(six, 5, 1, 4), 6.590296024616343, 1e-9);
}

TEST(BaseStock, CheapestLevelIsNoDearerThanAnyOther) {
  Random random(21);
  for (int round = 0; round < 300; ++round) {
    const Demand demand(random_streams(random, 3), between(random, .05, 3));
    const double holding = between(random, .01, 1);
    const double lacking = between(random, .01, 100);
    const std::size_t batch = 1 + random.below(7);
    std::size_t best = 0;
    double least = cost_of_level(demand, 0, holding, lacking, batch);
    for (std::size_t level = 1; level <= demand.most(); ++level) {
      const double cost = cost_of_level(demand, level, holding, lacking, batch);
      if (cost >= least) continue;
      best = level;
      least = cost;
    }
    EXPECT_EQ(cheapest_level(demand, holding, lacking, batch), best) << round;
  }
}

TEST(BaseStock, LevelForServiceIsTheSmallestThatGivesIt) {
  Random random(22);
  for (int round = 0; round < 300; ++round) {
    const Demand demand(random_streams(random, 3), between(random, .05, 3));
    const double service = 1 - between(random, 1e-6, .9);
    const std::size_t batch = 1 + random.below(7);
    const std::size_t level = level_for_service(demand, service, batch);
    EXPECT_LE(stocked(demand, level, batch).chance_out, 1 - service);
    if (level > 0) {
      EXPECT_GT(stocked(demand, level - 1, batch).chance_out, 1 - service);
    }
    EXPECT_EQ(level_for_service(demand, service), demand.least_for(service));
  }
}

TEST(BaseStock, FreeHoldingAndFreeLackingAreTheEnds) {
  const Demand demand = Demand::poisson(3);
  EXPECT_EQ(cheapest_level(demand, 1, 0), 0U);
  EXPECT_EQ(cheapest_level(demand, 0, 0), 0U);
  EXPECT_LT(stocked(demand, cheapest_level(demand, 0, 1)).expected_short, 1e-20);
  EXPECT_EQ(cheapest_level(Demand::poisson(0), 1, 1e9), 0U);
  EXPECT_EQ(level_for_service(demand, 0), 0U);
  EXPECT_LT(stocked(demand, level_for_service(demand, 1)).chance_out, 1e-20);
}

// What marginal analysis asks for: each one more saves no more than the one before, with any batch
// and with several streams; so does a fixed price of lacking, and any sum of such.
TEST(BaseStock, LossesAreConvexInTheLevelWhateverTheBatch) {
  Random random(23);
  for (int round = 0; round < 200; ++round) {
    const Demand demand(random_streams(random, 3), between(random, .05, 3));
    const std::size_t batch = 1 + random.below(12);
    const double holding = between(random, .01, 1);
    const double lacking = between(random, .01, 100);
    const auto check = [&](const auto& loss) {
      for (std::size_t level = 0; level + 2 < demand.most(); ++level) {
        const double first = loss(level) - loss(level + 1);
        const double second = loss(level + 1) - loss(level + 2);
        ASSERT_LE(second, first + 1e-12 * loss(0)) << level;
      }
    };
    check([&](std::size_t level) { return stocked(demand, level, batch).expected_short; });
    check([&](std::size_t level) { return cost_of_level(demand, level, holding, lacking, batch); });
  }
}

/// What was on the shelf and what was lacking, over time.
struct Played {
  double held = 0, lacking = 0, out = 0;
};

/// The policy, event by event: demand at random moments, one part each; orders arrive after their
/// lead time. Averages from `from` to `until`; the share of time with something lacking is `out`.
template <class LeadTime>
Played play(Random& random, double rate, std::size_t level, std::size_t batch, double from,
            double until, const LeadTime& lead_time) {
  struct Order {
    double at;
    std::size_t parts;
  };
  std::vector<Order> coming;
  auto net = static_cast<double>(level + batch - 1);  // on the shelf, less what is owed
  double position = net;
  double now = 0;
  Played sum;
  double next_demand = days_until(random, rate);
  while (now < until) {
    auto order = std::min_element(coming.begin(), coming.end(),
                                  [](const Order& a, const Order& b) { return a.at < b.at; });
    const bool arrives = order != coming.end() && order->at < next_demand;
    const double event = std::min(until, arrives ? order->at : next_demand);
    const double time = std::max(0.0, event - std::max(now, from));
    sum.held += time * std::max(0.0, net);
    sum.lacking += time * std::max(0.0, -net);
    if (net < 0) sum.out += time;
    now = event;
    if (now >= until) break;
    if (arrives) {
      net += static_cast<double>(order->parts);
      coming.erase(order);
      continue;
    }
    net -= 1;
    position -= 1;
    if (position < static_cast<double>(level)) {
      position += static_cast<double>(batch);
      coming.push_back({now + lead_time(random), batch});
    }
    next_demand = now + days_until(random, rate);
  }
  const double length = until - from;
  return {sum.held / length, sum.lacking / length, sum.out / length};
}

/// Averages over rates drawn evenly from what is believed.
template <class LeadTime>
Played play_all(const Stream& stream, std::size_t level, std::size_t batch, double mean_lead,
                const LeadTime& lead_time) {
  Random random(20240701);
  constexpr int kRates = 1500;
  Played mean;
  for (int index = 0; index < kRates; ++index) {
    const double rate = stream.takes * stream.rate.quantile((index + random.uniform()) / kRates);
    // Until the position is uniform and the first orders have come.
    const double from = 5 * mean_lead + 4 * static_cast<double>(batch) / rate;
    const Played one = play(random, rate, level, batch, from, from + 400 * mean_lead, lead_time);
    mean.held += one.held / kRates;
    mean.lacking += one.lacking / kRates;
    mean.out += one.out / kRates;
  }
  return mean;
}

void near(const Stocked& expected, const Played& played) {
  EXPECT_NEAR(played.held / expected.expected_held, 1, .02);
  EXPECT_NEAR(played.lacking / expected.expected_short, 1, .02);
  EXPECT_NEAR(played.out / expected.chance_out, 1, .02);
}

// A rate drawn from what is believed, then kept for the whole of the time.
TEST(BaseStock, EqualsThePolicyPlayedEventByEvent) {
  const Stream stream = {Gamma{4, 8}, 6};
  const double lead = .5;
  const Demand demand({stream}, lead);
  for (const auto& [level, batch] :
       {std::pair<std::size_t, std::size_t>{0, 1}, {2, 1}, {1, 3}, {2, 5}}) {
    const Played played = play_all(stream, level, batch, lead, [&](Random&) { return lead; });
    if (level + batch == 1) {
      EXPECT_EQ(played.held, 0);
      EXPECT_NEAR(played.lacking / stocked(demand, 0).expected_short, 1, .02);
      continue;
    }
    near(stocked(demand, level, batch), played);
  }
}

// Palm: ordered one by one, only the mean of the lead time counts. Exponential, and one in four
// four times as long.
TEST(BaseStock, OneByOneOnlyTheMeanLeadTimeCounts) {
  const Stream stream = {Gamma{4, 8}, 6};
  const double lead = .5;
  const Demand demand({stream}, lead);
  near(stocked(demand, 2),
       play_all(stream, 2, 1, lead, [&](Random& random) { return days_until(random, 1 / lead); }));
  near(stocked(demand, 2), play_all(stream, 2, 1, lead, [&](Random& random) {
         return random.chance(.25) ? 4 * lead : 0;
       }));
}

}  // namespace
}  // namespace whichlink::upkeep
