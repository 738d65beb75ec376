#include "routine/order.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>

#include "base/random.h"

namespace whichlink::routine {
namespace {

constexpr double kClose = 1e-9;

PlaceId place(std::size_t number) {
  return PlaceId{static_cast<std::uint32_t>(number)};
}

Walking walking_from(const std::vector<std::vector<double>>& rows) {
  Walking walking;
  for (const auto& row : rows) {
    IdVector<PlaceId, double> one;
    for (const double minutes : row) one.add(minutes);
    walking.add(std::move(one));
  }
  return walking;
}

Walking random_walking(Random& random, std::size_t places) {
  std::vector<std::vector<double>> rows(places, std::vector<double>(places, 0));
  for (std::size_t a = 0; a < places; ++a) {
    for (std::size_t b = a + 1; b < places; ++b) rows[a][b] = rows[b][a] = random.uniform();
  }
  return walking_from(rows);
}

// Minutes of an order, counted leg by leg as somebody walks it.
double walked(const Walking& walking, int people, PlaceId start, const std::vector<Stop>& stops,
              const std::vector<std::size_t>& order) {
  PlaceId here = start;
  PlaceId there = start;
  double minutes = 0;
  for (const std::size_t index : order) {
    const Stop& stop = stops[index];
    if (people == 1) {
      minutes += walking[here][stop.from] + walking[stop.from][stop.to];
      here = stop.to;
    } else {
      minutes += std::max(walking[here][stop.from], walking[there][stop.to]);
      here = stop.from;
      there = stop.to;
    }
  }
  return minutes;
}

double least_of_all_orders(const Walking& walking, int people, PlaceId start,
                           const std::vector<Stop>& stops) {
  std::vector<std::size_t> order(stops.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  double least = walked(walking, people, start, stops, order);
  do {
    least = std::min(least, walked(walking, people, start, stops, order));
  } while (std::next_permutation(order.begin(), order.end()));
  return least;
}

TEST(Order, NoPermutationWalksLess) {
  Random random(20261126);
  std::size_t better_than_given = 0;
  for (int round = 0; round < 120; ++round) {
    const std::size_t places = 2 + random.below(4);
    const Walking walking = random_walking(random, places);
    std::vector<Stop> stops(1 + random.below(6));
    for (Stop& stop : stops) {
      stop = {place(random.below(static_cast<std::uint32_t>(places))),
              place(random.below(static_cast<std::uint32_t>(places)))};
    }
    for (const int people : {1, 2}) {
      const Order order = least_walk(walking, people, place(0), stops);
      std::vector<std::size_t> sorted = order.stops;
      std::sort(sorted.begin(), sorted.end());
      std::vector<std::size_t> all(stops.size());
      std::iota(all.begin(), all.end(), std::size_t{0});
      EXPECT_EQ(sorted, all);
      EXPECT_TRUE(order.least);
      const double least = least_of_all_orders(walking, people, place(0), stops);
      EXPECT_NEAR(order.minutes, least, kClose);
      EXPECT_NEAR(walked(walking, people, place(0), stops, order.stops), order.minutes, kClose);
      if (walked(walking, people, place(0), stops, all) > least + kClose) ++better_than_given;
    }
  }
  EXPECT_GT(better_than_given, 50U) << "the order as given was the best nearly always";
}

TEST(Order, AmongEqualsTheOrderGivenDecides) {
  const Walking walking = walking_from({{0, 1}, {1, 0}});
  const std::vector<Stop> stops(4, Stop{place(0), place(1)});
  EXPECT_EQ(least_walk(walking, 1, place(0), stops).stops, (std::vector<std::size_t>{0, 1, 2, 3}));
}

TEST(Order, TooManyKindsAreTakenNearestFirstAndSaidNotToBeProven) {
  // From 0 the nearest is 1, then 2 lies far beyond; 2 first would be longer still.
  const Walking walking = walking_from({{0, 1, 2}, {1, 0, 5}, {2, 5, 0}});
  const std::vector<Stop> stops = {{place(2), place(2)}, {place(1), place(1)}};
  const Order cut = least_walk(walking, 1, place(0), stops, 1);
  EXPECT_FALSE(cut.least);
  EXPECT_EQ(cut.stops, (std::vector<std::size_t>{1, 0}));
  EXPECT_NEAR(cut.minutes, 6, kClose);
}

TEST(Order, ManyStopsOfFewKindsAreStillProven) {
  const Walking walking = walking_from({{0, .3}, {.3, 0}});
  std::vector<Stop> stops;
  for (int count = 0; count < 100; ++count) stops.push_back({place(0), place(count % 2)});
  const Order order = least_walk(walking, 1, place(0), stops);
  EXPECT_TRUE(order.least);
  EXPECT_NEAR(order.minutes, 50 * .3 + 49 * .3, kClose);  // there and back, but for the last
}

TEST(Order, NothingToDoTakesNoWalk) {
  const Order order = least_walk(walking_from({{0}}), 1, place(0), {});
  EXPECT_TRUE(order.stops.empty());
  EXPECT_EQ(order.minutes, 0);
}

}  // namespace
}  // namespace whichlink::routine
