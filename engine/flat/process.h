#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "base/problem.h"
#include "flat/fault_sets.h"
#include "flat/grounds.h"
#include "search/process.h"

/// One case as a flat decision process under partial observation: every state, action and report
/// numbered, for general-purpose solvers. What is left out: docs/formats.md.
namespace whichlink::flat {

struct Limits {
  std::size_t faults = 6;      ///< kept, of those on the route: the likeliest given the complaint
  std::size_t together = 1;    ///< at most so many of them are present at once; at least 1
  std::size_t standings = 10;  ///< kept, breadth first from the start; at least 1
};

/// More states than this are refused.
constexpr std::size_t kMostStates = 4000;

/// A state other than the end.
struct State {
  std::size_t ground = 0;
  FaultStates faults;  ///< by kept fault
};

/// What can be reported: an outcome of a sense.
struct Observation {
  SenseId sense;
  std::size_t outcome = 0;  ///< as in belief::Question::report
};

/// Numbers by [action][state], the end included as the last state. After the moves, the actions are
/// closing the case and calling service; after the observations there is one more, "nothing".
struct Process {
  std::vector<FaultId> faults;     ///< those kept, ascending
  Grounds grounds;                 ///< without the moves that no policy needs (flat/numbers.h)
  std::vector<State> states;       ///< without the end
  std::vector<std::string> moves;  ///< names, each once
  std::vector<Observation> observations;
  std::vector<double> start;                 ///< by state; adds up to 1
  std::vector<std::vector<Row>> next;        ///< chances of the state after; all of the end's are 1
  std::vector<std::vector<Row>> reports;     ///< chances of observations, by the state *after*
  std::vector<std::vector<double>> minutes;  ///< cost, priced; the end's are 0

  /// The same without names, for search: a site for each standing, whose choices are its moves in
  /// order, then closing and service.
  [[nodiscard]] search::Process numbers() const;

  [[nodiscard]] std::size_t end() const { return states.size(); }
  [[nodiscard]] std::size_t close() const { return moves.size(); }
  [[nodiscard]] std::size_t service() const { return moves.size() + 1; }
  [[nodiscard]] std::size_t nothing() const { return observations.size(); }
};

/// Where a case has come to.
struct Beginning {
  moves::Standing standing;
  std::size_t listener = 0;           ///< index into the sense's listeners
  std::vector<std::string> cannot;    ///< names of moves that cannot be made
  std::vector<FaultId> faults;        ///< those kept, ascending
  std::vector<chain::Patching> real;  ///< how things may really be plugged
  /// [real][set of kept faults, in the order of FaultSets(faults, together)]: need not add up to 1.
  std::vector<std::vector<double>> weights;
};

/// The rest of a case. A problem where the limits give more than kMostStates states, or where all
/// weights are 0. Limits::faults is of no meaning.
[[nodiscard]] Result<Process> process_from(const moves::Setting& setting,
                                           const Beginning& beginning, const Limits& limits);

/// The case of this complaint, from its first move on. A problem where the limits give more than
/// kMostStates states, or where none of the kept faults explains the complaint.
/// @param listener  index into the sense's listeners
/// @param complaint  on the route's own sense
[[nodiscard]] Result<Process> process_of(const moves::Setting& setting, RouteId route,
                                         std::size_t listener,
                                         const moves::ReportWeights& complaint,
                                         const Limits& limits);

}  // namespace whichlink::flat
