// Which parts to buy: no published figures; every list is counted out.

#include "upkeep/budget.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

#include "upkeep/base_stock.h"
#include "upkeep/spares.h"

namespace whichlink::upkeep {
namespace {

constexpr std::size_t kMany = 1000000;

/// Loss by what a stock of a random part lacks; convex.
Choice random_choice(Random& random, std::size_t most) {
  const Demand demand(random_streams(random, 2), between(random, .02, .5));
  Choice choice;
  // Whole prices, so that lists meet a budget exactly.
  choice.price = 1 + random.below(12);
  const double lacking = between(random, 1, 50);
  const std::size_t batch = 1 + random.below(3);
  for (std::size_t held = 0; held <= most; ++held)
    choice.lost.push_back(lacking * stocked(demand, held, batch).expected_short);
  return choice;
}

/// Any numbers: neither convex nor falling.
Choice rugged_choice(Random& random, std::size_t most) {
  Choice choice;
  choice.price = 1 + random.below(12);
  for (std::size_t held = 0; held <= most; ++held) choice.lost.push_back(20 * random.uniform());
  return choice;
}

std::vector<Choice> random_choices(Random& random, bool rugged) {
  std::vector<Choice> choices;
  const std::size_t parts = 2 + random.below(3);
  for (std::size_t part = 0; part < parts; ++part)
    choices.push_back(rugged ? rugged_choice(random, 4) : random_choice(random, 6));
  return choices;
}

/// All lists there are.
std::vector<List> all_lists(const std::vector<Choice>& choices) {
  std::vector<List> lists = {{}};
  for (const Choice& choice : choices) {
    std::vector<List> longer;
    for (const List& list : lists) {
      for (std::size_t held = 0; held < choice.lost.size(); ++held) {
        List next = list;
        next.held.push_back(held);
        next.money += choice.price * static_cast<double>(held);
        next.lost += choice.lost[held];
        longer.push_back(next);
      }
    }
    lists = longer;
  }
  return lists;
}

List best_of(const std::vector<List>& lists, double budget) {
  List best;
  best.lost = std::numeric_limits<double>::infinity();
  for (const List& list : lists) {
    if (list.money <= budget &&
        (list.lost < best.lost || (list.lost == best.lost && list.money < best.money)))
      best = list;
  }
  return best;
}

/// What is said of a list is true of it.
void is_itself(const List& list, const std::vector<Choice>& choices) {
  ASSERT_EQ(list.held.size(), choices.size());
  double money = 0;
  double lost = 0;
  for (std::size_t choice = 0; choice < choices.size(); ++choice) {
    ASSERT_LT(list.held[choice], choices[choice].lost.size());
    money += choices[choice].price * static_cast<double>(list.held[choice]);
    lost += choices[choice].lost[list.held[choice]];
  }
  EXPECT_NEAR(list.money, money, 1e-12 * money);
  EXPECT_NEAR(list.lost, lost, 1e-12 * lost);
}

TEST(Budget, EachPointOfTheCurveIsEfficient) {
  Random random(31);
  for (int round = 0; round < 400; ++round) {
    const std::vector<Choice> choices = random_choices(random, round % 4 == 0);
    const std::vector<List> lists = all_lists(choices);
    std::vector<std::size_t> held(choices.size());
    for (const Step& step : marginal_curve(choices)) {
      if (round % 4 != 0) {
        EXPECT_EQ(step.held, held[step.choice] + 1);
      }
      EXPECT_GT(step.held, held[step.choice]);
      held[step.choice] = step.held;
      List here{held, step.money, step.lost};
      is_itself(here, choices);
      EXPECT_NEAR(best_of(lists, step.money).lost, step.lost, 1e-11) << round;
    }
    // And its end is what money can do at all.
    EXPECT_NEAR(best_of(lists, 1e9).lost, greedy_list(choices, 1e9).lost, 1e-11);
  }
}

TEST(Budget, CurveSavesLessAndLessPerMoney) {
  Random random(32);
  for (int round = 0; round < 100; ++round) {
    std::vector<Choice> choices;
    for (int part = 0; part < 30; ++part)
      choices.push_back(part % 3 == 0 ? rugged_choice(random, 10) : random_choice(random, 20));
    double money = 0;
    double lost = 0;
    for (const Choice& choice : choices) lost += choice.lost[0];
    double last = std::numeric_limits<double>::infinity();
    for (const Step& step : marginal_curve(choices)) {
      ASSERT_GT(step.money, money);
      ASSERT_LE(step.lost, lost);
      const double rate = (lost - step.lost) / (step.money - money);
      ASSERT_LE(rate, last + 1e-9);
      last = rate;
      money = step.money;
      lost = step.lost;
    }
  }
}

TEST(Budget, ExactListIsTheBestOfAllLists) {
  Random random(33);
  int better = 0;
  for (int round = 0; round < 500; ++round) {
    const std::vector<Choice> choices = random_choices(random, round % 3 == 0);
    const std::vector<List> lists = all_lists(choices);
    for (const double budget : {0.0, 5.0, 11.0, 23.0, 40.0, 1000.0}) {
      const List best = best_of(lists, budget);
      const auto exact = exact_list(choices, budget, kMany);
      ASSERT_TRUE(exact.has_value());
      is_itself(*exact, choices);
      EXPECT_LE(exact->money, budget);
      EXPECT_NEAR(exact->lost, best.lost, 1e-11) << round << " " << budget;
      EXPECT_NEAR(exact->money, best.money, 1e-9) << round << " " << budget;
      const List greedy = greedy_list(choices, budget);
      is_itself(greedy, choices);
      EXPECT_LE(greedy.money, budget);
      EXPECT_GE(greedy.lost, best.lost - 1e-11);
      if (greedy.lost > best.lost + 1e-9) ++better;
    }
  }
  // Else the exact list would be for nothing.
  EXPECT_GT(better, 100);
}

TEST(Budget, LeastPossibleIsNeverAboveTheBestAndIsItAtThePointsOfTheCurve) {
  Random random(34);
  for (int round = 0; round < 400; ++round) {
    const std::vector<Choice> choices = random_choices(random, round % 3 == 0);
    const std::vector<List> lists = all_lists(choices);
    for (double budget = 0; budget < 60; budget += 1.5)
      EXPECT_LE(least_possible(choices, budget), best_of(lists, budget).lost + 1e-10) << budget;
    EXPECT_NEAR(least_possible(choices, 0), best_of(lists, 0).lost, 1e-10);
    double before = 0;
    double lost = least_possible(choices, 0);
    for (const Step& step : marginal_curve(choices)) {
      // But for what a relative 1e-12 of the budget can save, and rounding of the sum.
      const double per_money = (lost - step.lost) / (step.money - before);
      EXPECT_NEAR(least_possible(choices, step.money), step.lost,
                  1.1e-12 * step.money * per_money + 1e-15 * lost);
      EXPECT_NEAR(least_possible(choices, (before + step.money) / 2), (lost + step.lost) / 2, 1e-9);
      before = step.money;
      lost = step.lost;
    }
    EXPECT_NEAR(least_possible(choices, before + 1), lost, 1e-12);
  }
}

// As little worse than the best as the header says: than the first step of the curve that does not
// fit.
TEST(Budget, GreedyListIsWithinOneStepOfTheBest) {
  Random random(35);
  for (int round = 0; round < 300; ++round) {
    const std::vector<Choice> choices = random_choices(random, false);
    const std::vector<List> lists = all_lists(choices);
    const std::vector<Step> curve = marginal_curve(choices);
    double lost = greedy_list(choices, 0).lost;
    double before = 0;
    for (const Step& step : curve) {
      const double budget = step.money - .5;
      if (budget < before) continue;
      const List greedy = greedy_list(choices, budget);
      EXPECT_LE(greedy.lost, lost + 1e-12);
      EXPECT_LE(greedy.lost - best_of(lists, budget).lost, lost - step.lost + 1e-12);
      // At a point of the curve it is that point.
      EXPECT_NEAR(greedy_list(choices, step.money).lost, step.lost, 1e-12);
      before = step.money;
      lost = step.lost;
    }
  }
}

TEST(Budget, GreedyFillsUpWithWhatStillFits) {
  // The first saves most per money; 3 is left for the cheap one though the second comes before it.
  const std::vector<Choice> choices = {{10, {30, 10}}, {8, {20, 6}}, {3, {4, 2, 1}}};
  const List list = greedy_list(choices, 13);
  EXPECT_EQ(list.held, (std::vector<std::size_t>{1, 0, 1}));
  EXPECT_EQ(list.money, 13);
  EXPECT_EQ(list.lost, 32);
  const auto exact = exact_list(choices, 13, kMany);
  ASSERT_TRUE(exact.has_value());
  EXPECT_EQ(exact->held, list.held);
}

TEST(Budget, WhatIsNotConvexIsBoughtSeveralAtOnce) {
  // One or two alone save little, three are worth it.
  const std::vector<Choice> choices = {{1, {10, 9, 8, 1, .5, .7}}, {4, {6, 1}}};
  const std::vector<Step> curve = marginal_curve(choices);
  ASSERT_EQ(curve.size(), 3U);
  EXPECT_EQ(curve[0].choice, 0U);
  EXPECT_EQ(curve[0].held, 3U);
  EXPECT_EQ(curve[0].money, 3);
  EXPECT_EQ(curve[0].lost, 7);
  EXPECT_EQ(curve[1].choice, 1U);
  EXPECT_EQ(curve[2].held, 4U);
  EXPECT_EQ(curve[2].lost, 1.5);
}

// Spares that will be used for sure save the same each, but for rounding: they stay single steps.
TEST(Budget, EqualSavingsAreSingleSteps) {
  const Demand demand = Demand::poisson(400);
  for (const double lacking : {.1, 1.0, 3.3, 37.7}) {
    Choice choice;
    choice.price = 3;
    for (std::size_t held = 0; held <= 480; ++held)
      choice.lost.push_back(lacking * demand.expected_short(held));
    const std::vector<Step> curve = marginal_curve({choice});
    ASSERT_EQ(curve.size(), 480U) << lacking;
    for (std::size_t step = 0; step < curve.size(); ++step) EXPECT_EQ(curve[step].held, step + 1);
  }
}

TEST(Budget, AmongEqualsTheFirstComesFirst) {
  const Choice one = {2, {4, 2, 1}};
  const std::vector<Step> curve = marginal_curve({one, one, one});
  std::vector<std::size_t> order;
  for (const Step& step : curve) order.push_back(step.choice);
  EXPECT_EQ(order, (std::vector<std::size_t>{0, 1, 2, 0, 1, 2}));
}

TEST(Budget, ThreeTimesATenthFitsIntoThreeTenths) {
  const std::vector<Choice> choices = {{.1, {8, 4, 2, 1, .5}}};
  EXPECT_EQ(greedy_list(choices, .3).held[0], 3U);
  EXPECT_EQ(exact_list(choices, .3, kMany)->held[0], 3U);
  EXPECT_EQ(greedy_list(choices, .2999).held[0], 2U);
  EXPECT_EQ(exact_list(choices, .2999, kMany)->held[0], 2U);
}

TEST(Budget, OfNothingIsNothing) {
  EXPECT_TRUE(marginal_curve({}).empty());
  EXPECT_TRUE(greedy_list({}, 100).held.empty());
  EXPECT_TRUE(exact_list({}, 100, kMany)->held.empty());
  EXPECT_EQ(least_possible({}, 100), 0);
  // Parts that nobody asks for.
  const std::vector<Choice> idle = {{5, {0, 0, 0}}, {3, {7}}, {2, {1, 1, 2}}};
  EXPECT_TRUE(marginal_curve(idle).empty());
  EXPECT_EQ(greedy_list(idle, 100).money, 0);
  EXPECT_EQ(exact_list(idle, 100, kMany)->money, 0);
  EXPECT_EQ(least_possible(idle, 100), 8);
}

TEST(Budget, ExactListSaysWhenItWouldKeepTooMany) {
  Random random(36);
  std::vector<Choice> choices;
  for (int part = 0; part < 12; ++part) {
    choices.push_back(random_choice(random, 8));
    choices.back().price = between(random, 1, 100);
  }
  const auto enough = exact_list(choices, 300, kMany);
  ASSERT_TRUE(enough.has_value());
  EXPECT_FALSE(exact_list(choices, 300, 5).has_value());
  EXPECT_LE(enough->lost, greedy_list(choices, 300).lost);
  EXPECT_GE(enough->lost, least_possible(choices, 300) - 1e-12);
}

// Two hundred parts: between the bound and the greedy list, and the same whatever the order.
TEST(Budget, ExactListOfManyPartsDoesNotDependOnTheirOrder) {
  Random random(37);
  std::vector<Choice> choices;
  for (int part = 0; part < 200; ++part) choices.push_back(random_choice(random, 10));
  const auto exact = exact_list(choices, 1500, kMany);
  ASSERT_TRUE(exact.has_value());
  EXPECT_GE(exact->lost, least_possible(choices, 1500) - 1e-9);
  EXPECT_LE(exact->lost, greedy_list(choices, 1500).lost + 1e-9);
  std::vector<Choice> turned(choices.rbegin(), choices.rend());
  const auto again = exact_list(turned, 1500, kMany);
  ASSERT_TRUE(again.has_value());
  EXPECT_NEAR(again->lost, exact->lost, 1e-9);
}

}  // namespace
}  // namespace whichlink::upkeep
