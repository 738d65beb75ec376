#include "flat/grounds.h"

#include <algorithm>
#include <optional>

namespace whichlink::flat {
namespace {

using moves::Standing;
using moves::Substitute;

// In which order spares were put in makes no difference to what can be done.
bool same(const std::vector<Substitute>& a, const std::vector<Substitute>& b) {
  return std::is_permutation(a.begin(), a.end(), b.begin(), b.end());
}

bool same(const Standing& a, const Standing& b) {
  return a.place == b.place && a.patching == b.patching && a.temporary == b.temporary &&
         same(a.substituted, b.substituted);
}

// The place of a standing in the list; it goes in if there is room.
std::optional<std::size_t> take_in(std::vector<Standing>& list, const Standing& standing,
                                   std::size_t most) {
  for (std::size_t index = 0; index < list.size(); ++index) {
    if (same(list[index], standing)) return index;
  }
  if (list.size() >= most) return std::nullopt;
  list.push_back(standing);
  return list.size() - 1;
}

std::size_t take_in(std::vector<Ground>& list, const Ground& ground) {
  for (std::size_t index = 0; index < list.size(); ++index) {
    if (list[index].standing == ground.standing && list[index].real == ground.real) return index;
  }
  list.push_back(ground);
  return list.size() - 1;
}

}  // namespace

Grounds grounds_from(const moves::Setting& setting, const Standing& start,
                     const std::vector<chain::Patching>& real,
                     const std::vector<std::string>& cannot, std::size_t most,
                     std::size_t most_grounds) {
  Grounds all;
  most = std::min(most, most_grounds + 1);  // each has a ground of its own
  all.standings.push_back(start);
  for (std::size_t from = 0; from < all.standings.size(); ++from) {
    const Standing here = all.standings[from];  // the list grows
    all.moves.emplace_back();
    for (moves::Move& move : moves::derive_moves(setting, here)) {
      if (std::find(cannot.begin(), cannot.end(), move.name) != cannot.end()) continue;
      const auto to = take_in(all.standings, moves::after(setting, here, move), most);
      if (to) all.moves.back().push_back({std::move(move), *to});
    }
  }
  for (const chain::Patching& one : real) all.grounds.push_back({0, one});
  for (std::size_t from = 0; from < all.grounds.size(); ++from) {
    if (all.grounds.size() > most_grounds) return all;
    const Ground here = all.grounds[from];
    all.after.emplace_back();
    for (const KeptMove& kept : all.moves[here.standing]) {
      chain::Patching then =
          moves::patched_after(setting, all.standings[here.standing], kept.move, here.real);
      all.after.back().push_back(take_in(all.grounds, {kept.to, std::move(then)}));
    }
  }
  return all;
}

}  // namespace whichlink::flat
