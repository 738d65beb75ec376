#include <map>
#include <set>

#include "base/random.h"
#include "moves/support.h"

namespace whichlink::moves {
namespace {

void expect_sane(const Shop& shop, const chain::Patching& patching, const std::string& where) {
  std::set<ElementId> taken;
  for (const ElementId plug : shop.chain().elements.ids()) {
    const auto jack = patching.plug_in[plug];
    if (!jack) continue;
    EXPECT_TRUE(taken.insert(*jack).second) << "two plugs in one jack after " << where;
    EXPECT_TRUE(chain::fits(shop.chain(), plug, *jack)) << where;
  }
}

// Home with the spares in: what is left to differ is what has to be put back.
chain::Patching home_with_spares(const Shop& shop, const Standing& standing) {
  chain::Patching patching = shop.chain().home;
  for (const Substitute& swap : standing.substituted) {
    patching = with_changes(shop.chain(), patching, substitution(shop.chain(), patching, swap));
  }
  return patching;
}

void expect_all_named(const Shop& shop, const Standing& standing, const std::string& where) {
  const std::vector<std::string> lines = put_back_list(shop.setting, standing);
  const chain::Patching home = home_with_spares(shop, standing);
  for (const ElementId plug : shop.chain().elements.ids()) {
    const std::string& name = shop.chain().elements[plug].name;
    const bool differs = home.plug_in[plug] != standing.patching.plug_in[plug];
    const bool named = std::any_of(lines.begin(), lines.end(), [&](const std::string& line) {
      return line.rfind(name + " into ", 0) == 0 || line.rfind(name + " out", 0) == 0;
    });
    EXPECT_EQ(differs, named) << name << " after " << where;
  }
}

class RandomWalks : public ::testing::TestWithParam<std::string> {};
std::string claim_of(const ::testing::TestParamInfo<std::string>& info) {
  std::string name = info.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Moves, RandomWalks, ::testing::ValuesIn(kShipped), claim_of);

// Moves that re-plug are drawn as often as all the others together, or they would be rare.
Move drawn(std::vector<Move> moves, Random& random) {
  std::vector<Move> changing;
  for (const Move& move : moves) {
    if (!move.changes.empty()) changing.push_back(move);
  }
  std::vector<Move>& from = !changing.empty() && random.chance(.7) ? changing : moves;
  return from[random.below(static_cast<std::uint32_t>(from.size()))];
}

TEST_P(RandomWalks, KeepThePatchingSaneTheRouteWholeAndThePutBackListComplete) {
  const Shop shop(GetParam());
  Random random(20260);
  for (int walk = 0; walk < 300; ++walk) {
    const auto routes = static_cast<std::uint32_t>(shop.chain().routes.size());
    Standing standing = stand_at_start(shop.setting, RouteId{random.below(routes)});
    std::string trail = shop.chain().routes[standing.route].name;
    const std::uint32_t length = 1 + random.below(12);
    for (std::uint32_t step = 0; step < length; ++step) {
      const Move move = drawn(derive_moves(shop.setting, standing), random);
      trail += ", " + move.name;
      // A room that is plugged as it is taken to be stays so.
      EXPECT_EQ(patched_after(shop.setting, standing, move, standing.patching).plug_in,
                after(shop.setting, standing, move).patching.plug_in)
          << trail;
      standing = after(shop.setting, standing, move);
      expect_sane(shop, standing.patching, trail);
      EXPECT_TRUE(shop.setting.tracer().trace(standing.route, standing.patching).path.complete)
          << trail;
      expect_all_named(shop, standing, trail);
      if (::testing::Test::HasFailure()) return;
    }
  }
}

TEST_P(RandomWalks, CrossedRoomsStaySaneToo) {
  const Shop shop(GetParam());
  Random random(7);
  for (const RouteId route : shop.chain().routes.ids()) {
    for (const Arrangement& arrangement : arrangements_of(shop.setting, route)) {
      for (int walk = 0; walk < 10; ++walk) {
        Standing standing = stand_at_start(shop.setting, route);
        chain::Patching real = arrangement.patching;
        std::string trail = arrangement.words;
        for (int step = 0; step < 8; ++step) {
          const Move move = drawn(derive_moves(shop.setting, standing), random);
          trail += ", " + move.name;
          real = patched_after(shop.setting, standing, move, real);
          standing = after(shop.setting, standing, move);
          expect_sane(shop, real, trail);
          if (::testing::Test::HasFailure()) return;
        }
      }
    }
  }
}

TEST_P(RandomWalks, TracingTheLabelsPutsEveryCrossedRoomRight) {
  const Shop shop(GetParam());
  for (const RouteId route : shop.chain().routes.ids()) {
    const Standing standing = stand_at_start(shop.setting, route);
    const std::string name = "trace " + shop.chain().routes[route].name;
    if (!shop.has(standing, name)) continue;
    const Move trace = shop.move(standing, name);
    for (const Arrangement& one : arrangements_of(shop.setting, route)) {
      EXPECT_EQ(patched_after(shop.setting, standing, trace, one.patching).plug_in,
                shop.chain().home.plug_in)
          << one.words;
    }
  }
}

}  // namespace
}  // namespace whichlink::moves
