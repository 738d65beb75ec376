#include <gtest/gtest.h>

#include "flat/numbers.h"

namespace whichlink::flat {
namespace {

using Report = std::vector<std::vector<double>>;

const Report kTells = {{1, 0}, {.25, .75}};
const Report kTellsOtherwise = {{.75, .25}, {0, 1}};
const Report kTellsNothing = {{.5, .5}, {.5, .5}};
const belief::StateMatrix kCures = {{{1, 0, 0}, {1, 0, 0}, {1, 0, 0}}};

/// One standing, its plugs in one or two ways, and moves that are told by their minutes.
struct Table {
  Grounds grounds;
  std::vector<std::vector<Numbers>> numbers;

  explicit Table(std::size_t ways) : numbers(ways) {
    grounds.standings.resize(1);
    grounds.moves.resize(1);
    grounds.grounds.resize(ways);
    grounds.after.resize(ways);
  }
  void add(double minutes, const std::vector<Numbers>& of_ways) {
    moves::Move move;
    move.minutes = minutes;
    grounds.moves[0].push_back({move, 0});
    for (std::size_t way = 0; way < numbers.size(); ++way) {
      numbers[way].push_back(of_ways[way]);
      grounds.after[way].push_back(of_ways[way].to);
    }
  }
  // What stays, by its minutes.
  std::vector<double> stays() {
    take_out_needless(grounds, numbers);
    std::vector<double> minutes;
    for (const KeptMove& kept : grounds.moves[0]) minutes.push_back(kept.move.minutes);
    for (std::size_t way = 0; way < numbers.size(); ++way) {
      EXPECT_EQ(numbers[way].size(), minutes.size());
      EXPECT_EQ(grounds.after[way].size(), minutes.size());
    }
    return minutes;
  }
};

Numbers tells(const Report& report, const belief::StateMatrix& matrix = belief::kIdentity,
              std::size_t to = 0, std::size_t sense = 0) {
  return {to, {matrix}, sense, report};
}

TEST(Needless, IsADearerMoveThatTellsTheSameOrNothing) {
  Table table(1);
  table.add(2, {tells(kTells)});
  table.add(1, {tells(kTells)});
  table.add(1.5, {tells(kTellsNothing)});
  EXPECT_EQ(table.stays(), (std::vector<double>{1}));
}

TEST(Needless, IsNoMoveThatTellsOtherwiseOrIsCheaper) {
  Table table(1);
  table.add(1, {tells(kTells)});
  table.add(2, {tells(kTellsOtherwise)});
  table.add(.5, {tells(kTellsNothing)});
  table.add(3, {tells(kTells, belief::kIdentity, 0, 1)});
  EXPECT_EQ(table.stays(), (std::vector<double>{1, 2, .5, 3}));
}

TEST(Needless, IsNoMoveThatDoesSomethingElseOrLeadsElsewhere) {
  Table table(1);
  table.add(1, {tells(kTells)});
  table.add(2, {tells(kTells, kCures)});
  table.add(3, {tells(kTells, belief::kIdentity, 1)});
  table.add(4, {tells(kTellsNothing, kCures, 1)});
  EXPECT_EQ(table.stays(), (std::vector<double>{1, 2, 3, 4}));
}

TEST(Needless, IsOnlyOneOfTwoThatAreAlike) {
  Table table(1);
  table.add(1, {tells(kTells)});
  table.add(1, {tells(kTells)});
  EXPECT_EQ(table.stays(), (std::vector<double>{1}));
}

TEST(Needless, IsNoMoveThatDiffersWhereThePlugsAreCrossed) {
  Table table(2);
  table.add(1, {tells(kTells), tells(kTells)});
  table.add(2, {tells(kTells), tells(kTellsOtherwise)});
  // The same whatever is wrong, but not the same for both ways: it tells which way it is.
  table.add(3, {tells(kTellsNothing), tells({{1, 0}, {1, 0}})});
  EXPECT_EQ(table.stays(), (std::vector<double>{1, 2, 3}));
}

}  // namespace
}  // namespace whichlink::flat
