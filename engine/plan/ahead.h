#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "moves/move.h"
#include "plan/case_belief.h"

namespace whichlink::plan {

/// The work that a second of one core does, about (measured: 4e8 to 1e9). Thinking time is counted
/// in it, so that the same question always has the same answer.
constexpr double kWorkOfASecond = 5e8;

/// How far a case is searched ahead: if nothing else is said, so far that nobody waits for it
/// (judged by trials: docs/trials.md).
struct Depth {
  std::size_t faults = 8;        ///< kept, the likeliest now; one of them is present at a time
  std::size_t standings = 6;     ///< kept, the nearest to where things stand
  std::size_t work = 2'500'000;  ///< as of search::Search::refine; 0: no search
};
/// For somebody who waits so long at each step; 0: no search.
[[nodiscard]] Depth depth_of(double seconds);

/// What searching ahead to the end found, in the priced minutes of the plan.
struct Ahead {
  double lower = 0;                 ///< no plan of the searched part costs less
  double upper = 0;                 ///< what the plan that was found costs there
  std::optional<moves::Move> move;  ///< its first; none: closing or service
  std::size_t faults = 0;           ///< kept
  std::size_t standings = 0;        ///< kept
  double kept = 0;  ///< chance that what is wrong is one of the kept faults alone, or crossed plugs
};

/// Searches the rest of the case, cut down to its likeliest faults and its nearest standings, from
/// both sides: bounds on what is left to pay. Nothing where that part cannot be searched.
/// docs/mathematics.md 6.3.
/// @param cannot  names of moves that cannot be made
[[nodiscard]] std::optional<Ahead> search_ahead(const moves::Setting& setting,
                                                const CaseBelief& belief,
                                                const moves::Standing& standing,
                                                const std::vector<std::string>& cannot,
                                                const Depth& depth);

}  // namespace whichlink::plan
