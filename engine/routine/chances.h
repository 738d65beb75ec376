#pragma once

#include <cstddef>
#include <string>

#include "faults/rules.h"
#include "moves/setting.h"

namespace whichlink::routine {

/// Chance that a check of one route reports anything but "nothing wrong", given that this fault is
/// present and everything else on the installation is sound. The check listens once and then, if
/// `stressed`, puts the whole route under its stresses (the one stress, where it bears only one).
/// Exact: 1 - P(both reports are the first symptom), from the same questions as a case.
/// @param route  a fault that is not on its way is never found, but for false alarms
/// @param listener  index into the listeners of the route's sense
[[nodiscard]] double chance_found(const moves::Setting& setting, RouteId route, FaultId fault,
                                  std::size_t listener, bool stressed);
/// The same on the first route, in the installation's order, that has the fault on its way; the
/// chance of 0 where none has (a spare's).
[[nodiscard]] double chance_found(const moves::Setting& setting, FaultId fault,
                                  std::size_t listener, bool stressed);
/// The same with no fault at all: how often a sound route is blamed.
[[nodiscard]] double chance_false_alarm(const moves::Setting& setting, RouteId route,
                                        std::size_t listener, bool stressed);
/// How often at least one sound route is blamed in a check of all routes of a list, each stressed
/// as its signal says. Taken as independent.
/// @param listener  a name; the first of a sense that does not know it
[[nodiscard]] double chance_false_alarm_of_list(const moves::Setting& setting, std::size_t list,
                                                const std::string& listener);
/// The index of a listener in a sense; 0 where it has none of that name.
[[nodiscard]] std::size_t listener_in(const faults::Sense& sense, const std::string& name);

/// Chance that one threshold counts as changed, when the true change is so many dB. A retest
/// differs by a normal of this standard deviation; a change counts in either direction when it is
/// more than the trip level and half a step, since thresholds come in steps.
/// Example: change 10, trip 5, step 5, spread 4 gives .734.
[[nodiscard]] double chance_tripped(double change_db, double trip_db, double step_db,
                                    double spread_db);
/// Chance that at least one of so many thresholds counts as changed although nothing has.
[[nodiscard]] double chance_any_tripped(std::size_t thresholds, double trip_db, double step_db,
                                        double spread_db);
/// What the trip level costs on one list: all its thresholds, each with its sense's spread.
struct TripCost {
  std::size_t thresholds = 0;
  double false_alarm = 0;  ///< of the whole check
};
[[nodiscard]] TripCost trip_cost(const moves::Setting& setting, std::size_t list, double trip_db);
/// Whether a change that was found counts, either way.
[[nodiscard]] bool counts_as_changed(double change_db, double trip_db, double step_db);

}  // namespace whichlink::routine
