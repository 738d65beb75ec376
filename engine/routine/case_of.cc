#include <algorithm>

#include "guide/case.h"
#include "moves/standing.h"
#include "routine/round.h"

namespace whichlink::routine {
namespace {

/// The move that stresses everything on the route, or the one thing that can be stressed.
std::optional<std::string> stress_move(const std::vector<moves::Move>& moves) {
  std::optional<std::string> single;
  for (const moves::Move& move : moves) {
    if (std::holds_alternative<moves::StressRoute>(move.action)) return move.name;
    if (std::holds_alternative<moves::ApplyStress>(move.action)) single = move.name;
  }
  return single;
}

std::vector<ElementId> way_of(const moves::Setting& setting, RouteId route) {
  return moves::elements_of(setting.chain(),
                            setting.tracer().trace(route, setting.chain().home).path);
}

bool is_in(const std::vector<ElementId>& list, ElementId one) {
  return std::find(list.begin(), list.end(), one) != list.end();
}

}  // namespace

guide::CaseFile Round::evidence_of(RouteId route) const {
  const chain::Chain& chain = setting_.chain();
  const faults::Sense& sense = sense_of(route);
  const RouteState& state = routes_[route];
  guide::CaseFile events;
  events.model = events_.model;
  events.route = chain.routes[route].name;
  events.days_since_pass = events_.days_since_pass;
  const bool known = std::any_of(sense.listeners.begin(), sense.listeners.end(),
                                 [&](const auto& one) { return one.name == events_.listener; });
  if (known) events.listener = events_.listener;

  const std::vector<moves::Move> moves =
      moves::derive_moves(setting_, moves::stand_at_start(setting_, route));
  const std::vector<ElementId> ours = way_of(setting_, route);
  std::vector<ElementId> covered;
  const auto listened_to = [&](RouteId other) {
    const RouteState& there = routes_[other];
    std::vector<ElementId> shared;
    for (const ElementId element : way_of(setting_, other)) {
      if (is_in(ours, element)) shared.push_back(element);
    }
    const bool possible = std::any_of(moves.begin(), moves.end(), [&](const moves::Move& move) {
      const auto* tried = std::get_if<moves::TryRoute>(&move.action);
      return tried != nullptr && tried->route == other;
    });
    if (!possible || shared.empty()) return;
    const std::string name = "try " + chain.routes[other].name;
    if (there.failed) {
      const bool tells = there.when == When::untouched && there.report.heard != guide::kNotSure;
      if (tells) events.done.push_back({name, there.report, {}});
      return;
    }
    const bool adds = std::any_of(shared.begin(), shared.end(),
                                  [&](ElementId element) { return !is_in(covered, element); });
    if (!there.listened || !adds) return;
    covered.insert(covered.end(), shared.begin(), shared.end());
    events.done.push_back({name, {sense_of(other).symptoms.front().name, {}}, {}});
  };
  const std::optional<RouteId> pair = chain.routes[route].pair;
  if (pair) listened_to(*pair);
  for (const RouteId other : chain.routes.ids()) {
    if (other != route && other != pair) listened_to(other);
  }

  const std::optional<std::string> stress = stress_move(moves);
  const bool heard_untouched = state.when == When::untouched || !stress;
  events.complaint = state.report;
  if (heard_untouched || state.report.heard == guide::kNotSure) return events;
  events.complaint = {state.when == When::stressed ? sense.symptoms.front().name : guide::kNotSure,
                      {}};
  events.done.push_back({*stress, state.report, {}});
  return events;
}

guide::CaseFile Round::case_of(RouteId route) const {
  guide::CaseFile events = evidence_of(route);
  const auto opens = [&] { return guide::Case::open(setting_.installation(), events).has_value(); };
  if (opens()) return events;
  std::erase_if(events.done, [](const guide::Done& one) { return one.move.rfind("try ", 0) == 0; });
  if (opens()) return events;
  events.done.clear();
  events.complaint = routes_[route].report;
  if (!opens()) events.complaint = {guide::kNotSure, {}};
  return events;
}

}  // namespace whichlink::routine
