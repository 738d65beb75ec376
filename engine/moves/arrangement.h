#pragma once

#include <string>
#include <vector>

#include "belief/set_belief.h"
#include "moves/move.h"

namespace whichlink::moves {

/// How things may really be plugged, as against what the installation file says.
struct Arrangement {
  double prior = 0;
  chain::Patching patching;
  std::string words;  ///< "left patch cord.far plug and right patch cord.far plug crossed"; empty:
                      ///< as it should be
  std::vector<ElementId> crossed;  ///< the two plugs; empty: as it should be
};

/// As it should be (first), and each pair of plugs of the route and its pair that may be crossed:
/// same connector, same place, and both signals still come out somewhere. Priors add up to 1.
[[nodiscard]] std::vector<Arrangement> arrangements_of(const Setting& setting, RouteId route);

/// The real patching after a move, whatever the person takes it to be before.
[[nodiscard]] chain::Patching patched_after(const Setting& setting, const Standing& standing,
                                            const Move& move, const chain::Patching& real);

/// A move as numbers, under one real patching before it.
/// Outcomes are the symptoms of the move's sense in order, then `elsewhere` where the sense has it.
/// @param listener  index into the sense's listeners
[[nodiscard]] belief::Question question_of(const Setting& setting, const Standing& standing,
                                           const Move& move, const chain::Patching& real,
                                           std::size_t listener);
/// The complaint as a hearing of the route as it is plugged.
[[nodiscard]] belief::Question complaint_of(const Setting& setting, RouteId route,
                                            const chain::Patching& real, std::size_t listener);

/// What happens between the complaint and the first move: people get up, the end of the route is
/// taken off and laid down, so every fault may change between quiet and showing as if it had been
/// disturbed. Its report tells nothing.
[[nodiscard]] belief::Slice settling(const Setting& setting, SenseId sense);

/// Which report, as a weight on each outcome of a question: all ones tells nothing.
using ReportWeights = std::vector<double>;
[[nodiscard]] ReportWeights weights_of_outcome(const faults::Sense& sense, std::size_t outcome);
/// A stated drop: normal around each symptom's own drop, with the sense's spread.
[[nodiscard]] ReportWeights weights_of_drop(const faults::Sense& sense, double drop_db);
[[nodiscard]] ReportWeights weights_of_nothing(const faults::Sense& sense);
/// The question with its answer.
[[nodiscard]] belief::Slice answered(const belief::Question& question,
                                     const ReportWeights& weights);

}  // namespace whichlink::moves
