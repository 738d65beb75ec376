#include "routine/chances.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>

#include "belief/belief.h"
#include "moves/arrangement.h"
#include "routine/plan.h"

namespace whichlink::routine {
namespace {

// Everything sound but this one, which is there and shows as often as it does when drawn anew.
belief::Network only(const moves::Setting& setting, std::optional<FaultId> fault) {
  belief::Network network = setting.network();
  for (belief::StateVector& prior : network.prior) prior = {1, 0, 0};
  if (!fault) return network;
  const std::optional<ModeId> mode = setting.faults()[*fault].mode;
  const double shows =
      mode ? setting.rules().modes[*mode].chance_shows : setting.rules().unlisted.chance_shows;
  network.prior[fault->value] = {0, 1 - shows, shows};
  return network;
}

std::optional<moves::Move> stress_of(const std::vector<moves::Move>& all) {
  std::optional<moves::Move> single;
  for (const moves::Move& move : all) {
    if (std::holds_alternative<moves::StressRoute>(move.action)) return move;
    if (std::holds_alternative<moves::ApplyStress>(move.action)) single = move;
  }
  return single;
}

double chance_blamed(const moves::Setting& setting, RouteId route, std::optional<FaultId> fault,
                     std::size_t listener, bool stressed) {
  const moves::Standing standing = moves::stand_at_start(setting, route);
  const std::vector<moves::Move> all = moves::derive_moves(setting, standing);
  std::vector<moves::Move> made;
  for (const moves::Move& move : all) {
    if (std::holds_alternative<moves::Listen>(move.action)) made.push_back(move);
  }
  if (stressed) {
    if (const std::optional<moves::Move> stress = stress_of(all)) made.push_back(*stress);
  }
  std::vector<belief::Slice> slices;
  for (const moves::Move& move : made) {
    const faults::Sense& sense = setting.rules().senses[move.sense];
    slices.push_back(
        moves::answered(moves::question_of(setting, standing, move, setting.chain().home, listener),
                        moves::weights_of_outcome(sense, 0)));
  }
  const belief::Network network = only(setting, fault);
  // One fault at most is present, so that sets of one lose nothing and nothing cancels.
  return 1 - std::exp(belief::by_subsets(network, slices, 1).log_evidence);
}

double beyond(double limit_db, double spread_db) {
  const boost::math::normal_distribution<double> retest(0, spread_db);
  return boost::math::cdf(boost::math::complement(retest, limit_db));
}

}  // namespace

double chance_found(const moves::Setting& setting, RouteId route, FaultId fault,
                    std::size_t listener, bool stressed) {
  return chance_blamed(setting, route, fault, listener, stressed);
}

double chance_found(const moves::Setting& setting, FaultId fault, std::size_t listener,
                    bool stressed) {
  const std::vector<RouteId> routes = setting.routes_with(fault);
  return routes.empty() ? 0 : chance_blamed(setting, routes.front(), fault, listener, stressed);
}

double chance_false_alarm(const moves::Setting& setting, RouteId route, std::size_t listener,
                          bool stressed) {
  return chance_blamed(setting, route, std::nullopt, listener, stressed);
}

double chance_false_alarm_of_list(const moves::Setting& setting, std::size_t list,
                                  const std::string& listener) {
  const faults::Routine& routine = *setting.rules().routine;
  double none = 1;
  for (const RouteId route : setting.chain().routes.ids()) {
    const faults::RoutineSignal* one = signal_of(setting, route);
    if (one == nullptr || !routine.lists[list].holds(one->list, list)) continue;
    const faults::Sense& sense = setting.rules().senses[setting.rules().signals[one->signal].sense];
    none *= 1 - chance_false_alarm(setting, route, listener_in(sense, listener), one->stressed);
  }
  return 1 - none;
}

std::size_t listener_in(const faults::Sense& sense, const std::string& name) {
  for (std::size_t index = 0; index < sense.listeners.size(); ++index) {
    if (sense.listeners[index].name == name) return index;
  }
  return 0;
}

double chance_tripped(double change_db, double trip_db, double step_db, double spread_db) {
  const double limit = trip_db + step_db / 2;
  return beyond(limit - change_db, spread_db) + beyond(limit + change_db, spread_db);
}

double chance_any_tripped(std::size_t thresholds, double trip_db, double step_db,
                          double spread_db) {
  const double one = chance_tripped(0, trip_db, step_db, spread_db);
  return -std::expm1(static_cast<double>(thresholds) * std::log1p(-one));
}

TripCost trip_cost(const moves::Setting& setting, std::size_t list, double trip_db) {
  const faults::Routine& routine = *setting.rules().routine;
  TripCost cost;
  double none = 1;
  for (const RouteId route : setting.chain().routes.ids()) {
    const faults::RoutineSignal* one = signal_of(setting, route);
    if (one == nullptr || !one->thresholds) continue;
    if (!routine.lists[list].holds(one->list, list)) continue;
    if (!routine.lists[list].holds(one->thresholds->list, list)) continue;
    const SenseId sense = setting.rules().signals[one->signal].sense;
    const std::size_t count = one->thresholds->frequencies_hz.size();
    cost.thresholds += count;
    none *= 1 - chance_any_tripped(count, trip_db, routine.trip->step_db,
                                   setting.rules().senses[sense].level_spread_db);
  }
  cost.false_alarm = 1 - none;
  return cost;
}

bool counts_as_changed(double change_db, double trip_db, double step_db) {
  return std::abs(change_db) > trip_db + step_db / 2;
}

}  // namespace whichlink::routine
