#pragma once

#include <optional>
#include <string>
#include <vector>

#include "moves/move.h"
#include "plan/ahead.h"
#include "plan/aim.h"
#include "plan/case_belief.h"
#include "plan/ways.h"

namespace whichlink::plan {

/// One candidate, with everything that its choice is explained by.
struct Candidate {
  moves::Move move;
  Prediction prediction;
  bool idle = false;  ///< saves nothing of what is still to go: never chosen
  double expected_minutes =
      0;  ///< this move and everything after it, priced (docs/mathematics.md 6)
};

/// To split, moves are weighed by the sets that have more than this share of the working belief
/// (judged: docs/trials.md has what comes of it, and what it saves).
constexpr double kTooLightToSplit = 3e-3;

/// What is best now.
enum class Verdict { move, close, service };

struct Plan {
  Verdict verdict = Verdict::move;
  std::vector<Candidate> candidates;  ///< best first
  double close_minutes = 0;           ///< priced minutes of closing the case now
  double service_minutes = 0;         ///< priced minutes of calling service now
  double something_wrong = 0;
  std::optional<Ahead> ahead;  ///< where the case was searched ahead
};

/// Ranks every possible move by one step of look-ahead: its own minutes, and after each report the
/// cheapest sequence of repairs (ordered by chance over cost, Kadane & Simon 1977, from memory),
/// closing, or service.
/// @param cannot  names of moves that the person said cannot be done
/// @param heard_wrong  the route's last report was not "nothing wrong"
/// @param depth  with any work, and to save time, the case is searched ahead too, and the move that
/// the search begins with comes first, if it saves anything by one step of look-ahead
[[nodiscard]] Plan plan_next(const moves::Setting& setting, const CaseBelief& belief,
                             const moves::Standing& standing,
                             const std::vector<std::string>& cannot, bool heard_wrong,
                             Aim aim = Aim::time, const Depth& depth = {});
/// The same verdict and first candidate, sooner, for who plans many steps: what was found at one is
/// used at the next. There need not be others, nor in order; predictions speak only of faults that
/// matter to the route.
/// @param known  ways_for this setting, listener and aim
[[nodiscard]] Plan plan_first(const moves::Setting& setting, const CaseBelief& belief,
                              const moves::Standing& standing,
                              const std::vector<std::string>& cannot, bool heard_wrong, Aim aim,
                              const Depth& depth, KnownWays& known);
[[nodiscard]] KnownWays ways_for(const moves::Setting& setting, std::size_t listener, Aim aim);

}  // namespace whichlink::plan
