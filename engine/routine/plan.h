#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/problem.h"
#include "moves/move.h"

/// The routine check: what is gone through, what was answered, and what came of it.
namespace whichlink::routine {

enum class Kind {
  look,       ///< an item of the rules: yes or no
  listen,     ///< to one route, or to both of a pair at once, and under stress
  sweep,      ///< every frequency at a low level: yes or no
  thresholds  ///< the listener's own, against a baseline: within the trip level, or a change in dB
};

/// One thing to do, with one answer.
struct Step {
  Kind kind = Kind::look;
  std::string name;                 ///< unique in a plan: "listen to left phone and right phone"
  std::optional<std::size_t> item;  ///< index into Routine::items, to look at
  std::vector<RouteId> routes;      ///< one, or two of a pair; none to look at
  /// What to stress while listening, in order along the routes, each once.
  std::vector<std::pair<ElementId, StressId>> stresses;
  PlaceId from, to;  ///< where it is set up, and where it is heard
  double walking_minutes = 0, looking_minutes = 0, listening_minutes = 0, stressing_minutes = 0;

  [[nodiscard]] bool is_pair() const { return routes.size() == 2; }
};

/// A check from the first look to the last.
struct Plan {
  std::size_t list = 0;  ///< index into Routine::lists
  std::vector<Step> steps;
  double walking_minutes = 0, looking_minutes = 0, listening_minutes = 0, stressing_minutes = 0;
  double walking_minutes_by_two = 0;  ///< with one person at each end
  bool least_walking = true;          ///< proven to be the order of least walking
  std::vector<RouteId> left_out;      ///< routes whose signal is not on the list
  std::vector<std::size_t> cautions;  ///< of all its steps, indices into Rules::cautions
};

/// Precondition: the rules have a routine. Every route of an installation is plugged at home, so
/// nothing is re-plugged on the way: the order is that of least walking.
/// @param list  index into Routine::lists
[[nodiscard]] Plan plan_of(const moves::Setting& setting, std::size_t list);

/// The step for one route of a pair alone.
[[nodiscard]] Step alone(const moves::Setting& setting, const Step& pair, RouteId route);

/// How routes of this one's signal are checked; null where they are not.
[[nodiscard]] const faults::RoutineSignal* signal_of(const moves::Setting& setting, RouteId route);
/// What is played, and what is heard when all is well.
[[nodiscard]] std::string plays(const moves::Setting& setting, const Step& step);
[[nodiscard]] std::string expects(const moves::Setting& setting, const Step& step);

}  // namespace whichlink::routine
