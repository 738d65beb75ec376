#include "history/found_by_check.h"

#include <algorithm>
#include <map>
#include <memory>
#include <tuple>

#include "routine/chances.h"
#include "routine/plan.h"

namespace whichlink::history {

ChanceFound found_by_check(const moves::Setting& setting) {
  using Known = std::map<std::tuple<FaultId, RouteId, std::string, bool>, double>;
  const auto known = std::make_shared<Known>();
  return
      [&setting, known](FaultId fault, RouteId route, const std::string& listener, bool stressed) {
        const auto [place, is_new] = known->try_emplace({fault, route, listener, stressed}, 0);
        if (!is_new) return place->second;
        const SignalId signal = setting.chain().routes[route].signal;
        const faults::Sense& sense = setting.rules().senses[setting.rules().signals[signal].sense];
        const std::size_t who = routine::listener_in(sense, listener);
        // A sound route may be blamed too; what the fault itself adds is what makes a pass
        // unlikely.
        const double passes = 1 - routine::chance_found(setting, route, fault, who, stressed);
        const double sound_passes = 1 - routine::chance_false_alarm(setting, route, who, stressed);
        place->second = std::max(0.0, 1 - passes / sound_passes);
        return place->second;
      };
}

FoundOnRoute found_on_list(const moves::Setting& setting, std::size_t list,
                           const std::string& listener) {
  return
      [&setting, list, listener, by_check = found_by_check(setting)](FaultId fault, RouteId route) {
        const faults::RoutineSignal* one = routine::signal_of(setting, route);
        const faults::Routine& routine = *setting.rules().routine;
        if (one == nullptr || !routine.lists[list].holds(one->list, list)) return 0.0;
        return by_check(fault, route, listener, one->stressed);
      };
}

std::string usual_listener(const moves::Setting& setting) {
  return setting.rules().senses[SenseId{0}].listeners.front().name;
}

Result<std::size_t> list_of(const moves::Setting& setting, const std::string& name) {
  const auto& routine = setting.rules().routine;
  if (!routine) {
    return tl::unexpected(Problems{{{"--list", 0, 0},
                                    "the rules of this trade have no routine check",
                                    "rules with a key `routine`",
                                    ""}});
  }
  std::vector<std::string> names;
  for (const faults::RoutineList& one : routine->lists) names.push_back(one.name);
  const auto found = name.empty() ? names.begin() : std::find(names.begin(), names.end(), name);
  if (found == names.end()) {
    return tl::unexpected(Problems{
        {{"--list", 0, 0}, "no list \"" + name + "\"", one_of(names), nearest(name, names)}});
  }
  return static_cast<std::size_t>(found - names.begin());
}

double minutes_of_check(const moves::Setting& setting, std::size_t list) {
  const routine::Plan plan = routine::plan_of(setting, list);
  return plan.walking_minutes + plan.looking_minutes + plan.listening_minutes +
         plan.stressing_minutes;
}

}  // namespace whichlink::history
