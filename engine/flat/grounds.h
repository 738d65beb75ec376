#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "moves/arrangement.h"

namespace whichlink::flat {

/// A move that stays within the kept standings.
struct KeptMove {
  moves::Move move;
  std::size_t to = 0;  ///< the standing after it
};

/// Where things stand, as the person takes it, and how they are really plugged there.
struct Ground {
  std::size_t standing = 0;
  chain::Patching real;
};

/// The standings within reach, the moves between them, and every real patching that can go along.
struct Grounds {
  std::vector<moves::Standing> standings;
  std::vector<std::vector<KeptMove>> moves;     ///< by standing
  std::vector<Ground> grounds;                  ///< first those at the start, in order
  std::vector<std::vector<std::size_t>> after;  ///< [ground][place in its standing's moves]: ground
};

/// @param real  how things may really be plugged at the start: the first grounds, in this order
/// @param cannot  names of moves that cannot be made
/// Standings breadth first from `start`, in the order of the moves, until there are `most`; a move
/// that leads to any other is left out. Stops early with more than `most_grounds` grounds.
/// @param most  at least 1
[[nodiscard]] Grounds grounds_from(const moves::Setting& setting, const moves::Standing& start,
                                   const std::vector<chain::Patching>& real,
                                   const std::vector<std::string>& cannot, std::size_t most,
                                   std::size_t most_grounds);

}  // namespace whichlink::flat
