#include <set>

#include "moves/support.h"

namespace whichlink::moves {
namespace {

class Booth : public ::testing::Test {
 protected:
  const Shop booth_{"two-room-booth"};
};

template <class Kind>
std::vector<Move> moves_of_kind(const Shop& shop, const Standing& standing) {
  std::vector<Move> found;
  for (Move& move : derive_moves(shop.setting, standing)) {
    if (std::holds_alternative<Kind>(move.action)) found.push_back(std::move(move));
  }
  return found;
}

TEST_F(Booth, DirectConnectionBypassesExactlyThePatchCordAndThePanel) {
  const Standing before = booth_.start("left phone");
  const Standing next = booth_.after_move(before, "connect headset cord.left plug into left jack");
  std::vector<std::string> gone = booth_.parts_on_way(before);
  for (const std::string& kept : booth_.parts_on_way(next)) {
    gone.erase(std::find(gone.begin(), gone.end(), kept));
  }
  const std::vector<std::string> wanted = {"left patch cord", "left outside jack",
                                           "left panel wire", "left inside jack"};
  EXPECT_EQ(gone, wanted);
  EXPECT_FALSE(next.patching.plug_in[booth_.element("left patch cord.near plug")]);
  EXPECT_FALSE(next.patching.plug_in[booth_.element("headset cord.right plug")]);
}

TEST_F(Booth, CrossingIsOfferedOnlyWhereBothSignalsStillComeOut) {
  for (const RouteId route : booth_.chain().routes.ids()) {
    const Standing standing = stand_at_start(booth_.setting, route);
    for (const Move& move : moves_of_kind<CrossPlugs>(booth_, standing)) {
      const Standing next = after(booth_.setting, standing, move);
      for (const RouteId heard : {route, *booth_.chain().routes[route].pair}) {
        EXPECT_TRUE(booth_.setting.tracer().trace(heard, next.patching).path.complete) << move.name;
      }
    }
  }
  std::set<std::string> names;
  for (const Move& move : moves_of_kind<CrossPlugs>(booth_, booth_.start("left phone"))) {
    names.insert(move.name);
  }
  const std::set<std::string> wanted = {
      "cross left patch cord.near plug with right patch cord.near plug",
      "cross left patch cord.far plug with right patch cord.far plug",
      "cross headset cord.left plug with headset cord.right plug",
      "cross headset cord.left pins with headset cord.right pins"};
  EXPECT_EQ(names, wanted);
  EXPECT_TRUE(moves_of_kind<CrossPlugs>(booth_, booth_.start("bone")).empty());
}

TEST_F(Booth, SubstitutionTakesTheCordWithAllItsPlugsAndTheOldOneHangsFree) {
  const Standing next = booth_.after_move(booth_.start("left phone"),
                                          "substitute spare headset cord for headset cord");
  for (const std::string piece : {".left plug", ".right plug", ".left pins", ".right pins"}) {
    const ElementId old_one = booth_.element("headset cord" + piece);
    EXPECT_FALSE(next.patching.plug_in[old_one]) << piece;
    EXPECT_EQ(next.patching.plug_in[booth_.element("spare headset cord" + piece)],
              booth_.chain().home.plug_in[old_one])
        << piece;
  }
}

TEST_F(Booth, ASpareBeatsBorrowingAndWithoutOneThePairsPartIsBorrowed) {
  const Standing phone = booth_.start("left phone");
  EXPECT_TRUE(booth_.has(phone, "substitute drawer earphone for left earphone"));
  EXPECT_FALSE(booth_.has(phone, "substitute right earphone for left earphone"));
  const Standing used = booth_.after_move(phone, "substitute spare patch cord for left patch cord");
  EXPECT_FALSE(booth_.has(used, "substitute spare patch cord for left patch cord"));
  const Standing insert = booth_.start("left insert");
  EXPECT_TRUE(booth_.has(insert, "substitute right insert earphone for left insert earphone"));
}

TEST_F(Booth, NoSecondTemporaryChangeWhileOneIsOutstanding) {
  const Standing next = booth_.after_move(booth_.start("left phone"),
                                          "connect headset cord.left plug into left jack");
  ASSERT_TRUE(next.temporary);
  EXPECT_TRUE(booth_.has(next, "put back"));
  EXPECT_TRUE(moves_of_kind<ConnectDirectly>(booth_, next).empty());
  EXPECT_TRUE(moves_of_kind<CrossPlugs>(booth_, next).empty());
  EXPECT_TRUE(moves_of_kind<TakeOut>(booth_, next).empty());
  for (const Move& move : moves_of_kind<Substitute>(booth_, next)) {
    EXPECT_TRUE(booth_.chain().parts[std::get<Substitute>(move.action).in].spare) << move.name;
  }
}

TEST_F(Booth, APartWhosePlugsAreToBePutBackIsNotSubstituted) {
  const Standing next = booth_.after_move(booth_.start("left phone"),
                                          "connect headset cord.left plug into left jack");
  EXPECT_FALSE(booth_.has(next, "substitute spare headset cord for headset cord"));
  EXPECT_TRUE(booth_.has(next, "substitute drawer earphone for left earphone"));
}

TEST_F(Booth, TakingOutUndoesASubstitution) {
  const Standing before = booth_.start("left phone");
  const Standing with_spare =
      booth_.after_move(before, "substitute spare headset cord for headset cord");
  ASSERT_NE(with_spare.patching, before.patching);
  const Standing without = booth_.after_move(with_spare, "take out spare headset cord");
  EXPECT_EQ(without.patching, before.patching);
  EXPECT_TRUE(without.substituted.empty());
}

// A change and its undoing around a spare leave just the spare in.
TEST_F(Booth, PutBackAfterTakingOutRestoresTheChainWithAndWithoutSpares) {
  Standing at = booth_.start("left phone");
  at = booth_.after_move(at, "substitute spare headset cord for headset cord");
  const chain::Patching with_spare = at.patching;
  at = booth_.after_move(at, "connect spare headset cord.left plug into left jack");
  at = booth_.after_move(at, "put back");
  EXPECT_EQ(at.patching, with_spare);
  at = booth_.after_move(at, "take out spare headset cord");
  at = booth_.after_move(at, "connect headset cord.left plug into left jack");
  at = booth_.after_move(at, "put back");
  EXPECT_EQ(at.patching, booth_.chain().home);
}

TEST_F(Booth, ASpareIsWhereThePartWasThatItStandsInFor) {
  const Standing at = booth_.after_move(booth_.start("left phone"),
                                        "substitute spare headset cord for headset cord");
  const PlaceId booth = booth_.chain().elements[booth_.element("headset cord.left plug")].place;
  EXPECT_EQ(booth_.move(at, "flex spare headset cord.cord").acts_at, booth);
  EXPECT_EQ(booth_.move(at, "take out spare headset cord").acts_at, booth);
  const Move direct = booth_.move(at, "connect spare headset cord.left plug into left jack");
  EXPECT_EQ(direct.acts_at, booth);
  EXPECT_NE(direct.ends_at, booth);
  const Standing carried = after(booth_.setting, at, direct);
  ASSERT_TRUE(carried.temporary);
  EXPECT_TRUE(carried.temporary->carried_to);
  EXPECT_FALSE(carried.patching.plug_in[booth_.element("spare headset cord.right plug")]);
}

TEST_F(Booth, WalkingIsInTheMinutes) {
  const double walk = .3;
  const double tone = booth_.setting.rules()
                          .signals[booth_.chain().routes[booth_.route("left phone")].signal]
                          .minutes;
  const double replug = booth_.setting.rules().handling.replug_minutes;
  Standing at = booth_.start("left phone");
  EXPECT_NEAR(booth_.move(at, "listen").minutes, walk + tone, 1e-12);
  // To the booth for the plug, with the headset to the control room, where it is heard.
  const Move direct = booth_.move(at, "connect headset cord.left plug into left jack");
  EXPECT_NEAR(direct.minutes, 2 * walk + replug + tone, 1e-12);
  at = after(booth_.setting, at, direct);
  EXPECT_NEAR(booth_.move(at, "listen").minutes, tone, 1e-12);
  // The near plug of the patch cord at hand, then the headset's two in the booth.
  EXPECT_NEAR(booth_.move(at, "put back").minutes, walk + 3 * replug + tone, 1e-12);
  at = booth_.after_move(booth_.start("left phone"), "listen");
  EXPECT_NEAR(booth_.move(at, "listen").minutes, tone, 1e-12);
}

TEST(Moves, StressingTheRouteWalksAlongItOnceAndStaysAtItsEnd) {
  const Shop booth("two-room-booth");
  const Standing at = booth.start("left phone");
  const faults::Rules& rules = booth.setting.rules();
  double doing = 0;
  const auto path = booth.setting.tracer().trace(at.route, at.patching).path;
  for (const ElementId element : elements_of(booth.chain(), path)) {
    for (const StressId id : rules.classes[booth.chain().elements[element].element_class].stresses)
      doing += rules.stresses[id].minutes;
  }
  const double tone = rules.signals[booth.chain().routes[at.route].signal].minutes;
  EXPECT_NEAR(booth.move(at, "stress all").minutes,
              doing + .3 + tone + rules.handling.alone_minutes, 1e-12);
}

class EveryShop : public ::testing::TestWithParam<std::string> {
 protected:
  const Shop shop_{GetParam()};
};

std::string claim_of(const ::testing::TestParamInfo<std::string>& info) {
  std::string name = info.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Moves, EveryShop, ::testing::ValuesIn(kShipped), claim_of);

TEST_P(EveryShop, NamesAreUniqueAndMinutesPositive) {
  for (const RouteId route : shop_.chain().routes.ids()) {
    const Standing start = stand_at_start(shop_.setting, route);
    for (const Move& first : derive_moves(shop_.setting, start)) {
      std::set<std::string> names;
      for (const Move& move : derive_moves(shop_.setting, after(shop_.setting, start, first))) {
        EXPECT_TRUE(names.insert(move.name).second) << move.name;
        EXPECT_GT(move.minutes, 0) << move.name;
        EXPECT_FALSE(short_words(shop_.setting, move).empty());
      }
    }
  }
}

TEST_P(EveryShop, PutBackRestoresTheHomePatchingAfterEveryTemporaryMove) {
  std::size_t tried = 0;
  for (const RouteId route : shop_.chain().routes.ids()) {
    const Standing start = stand_at_start(shop_.setting, route);
    for (const Move& move : derive_moves(shop_.setting, start)) {
      const Standing changed = after(shop_.setting, start, move);
      if (!changed.temporary) continue;
      ++tried;
      EXPECT_NE(changed.patching, shop_.chain().home) << move.name;
      const Standing back = shop_.after_move(changed, "put back");
      EXPECT_EQ(back.patching, shop_.chain().home) << move.name;
      EXPECT_FALSE(back.temporary);
      EXPECT_TRUE(put_back_list(shop_.setting, back).empty());
    }
  }
  EXPECT_GT(tried, 0U);
}

// What the rules attach to whatever a move uses.
class Attached {
 public:
  Attached(const Shop& shop, const Standing& standing, const Move& move)
      : rules_(shop.setting.rules()), chain_(shop.chain()), standing_(standing) {
    add(rules_.signals[chain_.routes[move.heard_on].signal].cautions);
    if (const auto* one = std::get_if<ApplyStress>(&move.action)) {
      add(rules_.stresses[one->stress].cautions);
      element(one->element);
    } else if (std::holds_alternative<StressRoute>(move.action)) {
      const auto path = shop.setting.tracer().trace(standing.route, standing.patching).path;
      for (const ElementId on_way : elements_of(chain_, path)) stressed(on_way);
    } else if (const auto* treat = std::get_if<Treat>(&move.action)) {
      add(rules_.remedies[treat->remedy].cautions);
      element(treat->element);
      const auto mate = chain::mate(chain_, standing.patching, treat->element);
      if (mate && rules_.remedies[treat->remedy].whole_joint) element(*mate);
    } else if (const auto* swap = std::get_if<Substitute>(&move.action)) {
      part(swap->out);
    } else if (const auto* undo = std::get_if<TakeOut>(&move.action)) {
      part(undo->out);
    } else if (const auto* measure = std::get_if<Measure>(&move.action)) {
      for (const ElementId piece : chain_.parts[measure->part].elements) unplugged(piece);
    } else if (std::holds_alternative<TraceLabels>(move.action)) {
      const auto path = shop.setting.tracer().trace(standing.route, standing.patching).path;
      for (const ElementId on_way : elements_of(chain_, path)) unplugged(on_way);
    }
    for (const PlugChange& change : move.changes) {
      unplugged(change.plug);
      if (change.jack) element(*change.jack);
    }
  }
  const std::set<std::size_t>& all() const { return all_; }

 private:
  void add(const std::vector<std::size_t>& cautions) {
    for (const std::size_t one : cautions) {
      if (rules_.cautions[one].hurts) all_.insert(one);
    }
  }
  void element(ElementId id) { add(rules_.classes[chain_.elements[id].element_class].cautions); }
  void stressed(ElementId id) {
    const faults::ElementClass& own = rules_.classes[chain_.elements[id].element_class];
    for (const StressId stress : own.stresses) add(rules_.stresses[stress].cautions);
    if (!own.stresses.empty()) element(id);
  }
  void unplugged(ElementId id) {
    const auto mate = chain::mate(chain_, standing_.patching, id);
    if (!mate) return;
    element(id);
    element(*mate);
  }
  void part(PartId id) { add(rules_.part_kinds[chain_.parts[id].kind].cautions); }

  const faults::Rules& rules_;
  const chain::Chain& chain_;
  const Standing& standing_;
  std::set<std::size_t> all_;
};

TEST_P(EveryShop, WhatMayHurtIsOnEveryMoveThatUsesIt) {
  std::size_t needed = 0;
  for (const RouteId route : shop_.chain().routes.ids()) {
    const Standing start = stand_at_start(shop_.setting, route);
    for (const Move& first : derive_moves(shop_.setting, start)) {
      const Standing then = after(shop_.setting, start, first);
      for (const Move& move : derive_moves(shop_.setting, then)) {
        const std::set<std::size_t> shown(move.cautions.begin(), move.cautions.end());
        EXPECT_EQ(shown.size(), move.cautions.size()) << move.name << " repeats a caution";
        const Attached attached(shop_, then, move);
        for (const std::size_t one : attached.all()) {
          ++needed;
          EXPECT_TRUE(shown.count(one) > 0) << move.name << " after " << first.name << " lacks "
                                            << shop_.setting.rules().cautions[one].name;
        }
      }
    }
  }
  EXPECT_GT(needed, 100U);
}

}  // namespace
}  // namespace whichlink::moves
