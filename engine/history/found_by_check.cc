#include "history/found_by_check.h"

#include <algorithm>
#include <map>
#include <memory>
#include <tuple>

#include "routine/chances.h"
#include "routine/plan.h"

namespace whichlink::history {
ChanceFound found_by_check(const moves::Setting& setting) {
  using Known = std::map<std::tuple<std::uint32_t, std::string, bool>, double>;
  const auto known = std::make_shared<Known>();
  return [&setting, known](FaultId fault, const std::string& listener, bool stressed) {
    const auto [place, is_new] = known->try_emplace({fault.value, listener, stressed}, 0);
    if (!is_new) return place->second;
    const std::vector<RouteId> routes = setting.routes_with(fault);
    if (!routes.empty()) {
      const RouteId route = routes.front();
      const SignalId signal = setting.chain().routes[route].signal;
      const faults::Sense& sense = setting.rules().senses[setting.rules().signals[signal].sense];
      const std::size_t who = routine::listener_in(sense, listener);
      // A sound route may be blamed too; what the fault itself adds is what makes a pass unlikely.
      const double passes = 1 - routine::chance_found(setting, route, fault, who, stressed);
      const double sound_passes = 1 - routine::chance_false_alarm(setting, route, who, stressed);
      place->second = std::max(0.0, 1 - passes / sound_passes);
    }
    return place->second;
  };
}

std::string usual_listener(const moves::Setting& setting) {
  return setting.rules().senses[SenseId{0}].listeners.front().name;
}

Result<double> minutes_of_check(const moves::Setting& setting, const std::string& list) {
  const auto& routine = setting.rules().routine;
  if (!routine) {
    return tl::unexpected(Problems{{{"--check-minutes", 0, 0},
                                    "the rules of this trade have no routine check",
                                    "minutes",
                                    ""}});
  }
  std::vector<std::string> names;
  for (const faults::RoutineList& one : routine->lists) names.push_back(one.name);
  const auto found = list.empty() ? names.begin() : std::find(names.begin(), names.end(), list);
  if (found == names.end()) {
    return tl::unexpected(Problems{
        {{"--list", 0, 0}, "no list \"" + list + "\"", one_of(names), nearest(list, names)}});
  }
  const routine::Plan plan =
      routine::plan_of(setting, static_cast<std::size_t>(found - names.begin()));
  return plan.walking_minutes + plan.looking_minutes + plan.listening_minutes +
         plan.stressing_minutes;
}

}  // namespace whichlink::history
