#include "plan/ahead.h"

#include <cmath>

#include "moves/support.h"
#include "plan/planner.h"

namespace whichlink::plan {
namespace {

using moves::Shop;

/// A complaint, and where the case stands after some moves.
struct Begun {
  Begun(const std::string& model, const std::string& route, const std::string& heard)
      : shop(model),
        standing(shop.start(route)),
        belief(shop.setting, standing.route, 0, weights(standing.route, heard)) {}
  moves::ReportWeights weights(RouteId route, const std::string& heard) const {
    const SignalId signal = shop.chain().routes[route].signal;
    const faults::Sense& sense =
        shop.setting.rules().senses[shop.setting.rules().signals[signal].sense];
    return moves::weights_of_outcome(sense, *sense.find(heard));
  }
  void made(const std::string& name, const std::string& heard) {
    const moves::Move move = shop.move(standing, name);
    belief.take_in(standing, move, weights(standing.route, heard));
    standing = moves::after(shop.setting, standing, move);
  }
  std::optional<Ahead> ahead(const Depth& depth,
                             const std::vector<std::string>& cannot = {}) const {
    return search_ahead(shop.setting, belief, standing, cannot, depth);
  }
  Plan plan(const Depth& depth, Aim aim = Aim::time) const {
    return plan_next(shop.setting, belief, standing, {}, true, aim, depth);
  }

  const Shop shop;
  moves::Standing standing;
  CaseBelief belief;
};

constexpr std::size_t kSome = 1'000'000;

TEST(Ahead, MoreWorkNarrowsTheBounds) {
  for (const char* model : {"single-room", "screening-set", "two-room-booth"}) {
    const Begun begun(model, "left phone", "silent");
    const auto quick = begun.ahead({4, 4, 1});
    const auto some = begun.ahead({4, 4, kSome});
    const auto long_thought = begun.ahead({4, 4, 150 * kSome});
    ASSERT_TRUE(quick && some && long_thought) << model;
    EXPECT_GT(quick->lower, 0);
    EXPECT_LE(quick->lower, some->lower + 1e-9);
    EXPECT_LE(some->lower, long_thought->lower + 1e-9);
    EXPECT_LE(long_thought->lower, long_thought->upper + 1e-9);
    EXPECT_LE(long_thought->upper, some->upper + 1e-9);
    EXPECT_LT(long_thought->upper, quick->upper);
    EXPECT_LT(1 - long_thought->lower / long_thought->upper, .1) << model;  // the gap
  }
}

TEST(Ahead, TheSameWorkGivesTheSameAnswer) {
  const Begun begun("single-room", "left phone", "drops out");
  const auto one = begun.ahead({6, 6, kSome});
  const auto other = begun.ahead({6, 6, kSome});
  ASSERT_TRUE(one && other);
  EXPECT_EQ(one->lower, other->lower);
  EXPECT_EQ(one->upper, other->upper);
  EXPECT_EQ(one->move->name, other->move->name);
}

// Four faults of a silent route, and crossed plugs, are most of what may be wrong; eight are more.
TEST(Ahead, SaysHowMuchOfWhatMayBeWrongItKeeps) {
  const Begun begun("single-room", "left phone", "silent");
  const auto four = begun.ahead({4, 1, 1});
  const auto eight = begun.ahead({8, 1, 1});
  ASSERT_TRUE(four && eight);
  EXPECT_EQ(four->faults, 4U);
  EXPECT_GT(four->kept, .5);
  EXPECT_GT(eight->kept, four->kept);
  EXPECT_LE(eight->kept, 1);
}

TEST(Ahead, LeavesOutWhatCannotBeDone) {
  const Begun begun("single-room", "left phone", "silent");
  const auto first = begun.ahead({6, 6, kSome});
  ASSERT_TRUE(first && first->move);
  const auto second = begun.ahead({6, 6, kSome}, {first->move->name});
  ASSERT_TRUE(second && second->move);
  EXPECT_NE(second->move->name, first->move->name);
}

// From where the case stands: with nothing allowed that could be done at the start, what is left
// are the moves that only the change has made possible.
TEST(Ahead, GoesOnFromWhereThingsStand) {
  Begun begun("two-room-booth", "left phone", "silent");
  std::vector<std::string> at_the_start;
  for (const moves::Move& one : moves::derive_moves(begun.shop.setting, begun.standing)) {
    at_the_start.push_back(one.name);
  }
  begun.made("substitute spare patch cord for left patch cord", "silent");
  const auto ahead = begun.ahead({6, 6, kSome}, at_the_start);
  ASSERT_TRUE(ahead && ahead->move);
  EXPECT_TRUE(begun.shop.has(begun.standing, ahead->move->name)) << ahead->move->name;
}

TEST(Ahead, ItsMoveComesFirstAndTheOthersKeepTheirOrder) {
  const Begun begun("single-room", "left phone", "silent");
  const Plan plain = begun.plan({8, 8, 0});
  EXPECT_FALSE(plain.ahead);
  const Plan searched = begun.plan({});
  ASSERT_TRUE(searched.ahead && searched.ahead->move);
  ASSERT_EQ(searched.verdict, Verdict::move);
  EXPECT_EQ(searched.candidates.front().move.name, searched.ahead->move->name);
  ASSERT_NE(plain.candidates.front().move.name, searched.candidates.front().move.name);
  std::vector<std::string> expected;
  for (const Candidate& one : plain.candidates) {
    if (one.move.name != searched.ahead->move->name) expected.push_back(one.move.name);
  }
  for (std::size_t index = 1; index < searched.candidates.size(); ++index) {
    EXPECT_EQ(searched.candidates[index].move.name, expected[index - 1]);
  }
  EXPECT_FALSE(begun.plan({}, Aim::split).ahead);  // only time is searched for
}

// The log of a case: the chances that each report was given before it was made multiply to that of
// all of them together, whatever was asked in which order, as in the game of submarine (MacKay,
// Information Theory, Inference, and Learning Algorithms, 4.6, from memory). The working belief
// prunes sets below 1e-5, hence the bound.
TEST(CaseLog, ItsInformationAddsUpWhateverTheOrder) {
  Begun begun("single-room", "left phone", "drops out");
  const double before = begun.belief.picture(begun.standing).log_evidence;
  double bits = 0;
  for (const auto& [name, heard] : std::vector<std::pair<std::string, std::string>>{
           {"listen", "steady"},
           {"flex headset cord.cord", "drops out"},
           {"listen", "steady"},
           {"twist headset cord.left plug", "steady"}}) {
    const moves::Move move = begun.shop.move(begun.standing, name);
    const faults::Sense& sense = begun.shop.setting.rules().senses[move.sense];
    bits -= std::log2(begun.belief.predict(begun.standing, move)[*sense.find(heard)].chance);
    begun.made(name, heard);
  }
  const double after = begun.belief.picture(begun.standing).log_evidence;
  EXPECT_GT(bits, 2);
  EXPECT_NEAR(bits, (before - after) / std::log(2.), 1e-3);
}

}  // namespace
}  // namespace whichlink::plan
