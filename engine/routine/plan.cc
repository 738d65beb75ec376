#include "routine/plan.h"

#include <algorithm>

#include "moves/standing.h"
#include "routine/order.h"

namespace whichlink::routine {
namespace {

using faults::Routine;
using faults::RoutineSignal;

void add_once(std::vector<std::size_t>& list, const std::vector<std::size_t>& more) {
  for (const std::size_t one : more) {
    if (std::find(list.begin(), list.end(), one) == list.end()) list.push_back(one);
  }
}

std::string named(const std::string& verb, const chain::Chain& chain,
                  const std::vector<RouteId>& routes) {
  std::string name = verb;
  for (std::size_t index = 0; index < routes.size(); ++index) {
    name += (index == 0 ? " " : " and ") + chain.routes[routes[index]].name;
  }
  return name;
}

std::string with(std::string words, const std::string& braces, const std::string& name) {
  for (std::size_t at = words.find(braces); at != std::string::npos;
       at = words.find(braces, at + name.size())) {
    words.replace(at, braces.size(), name);
  }
  return words;
}

class Planning {
 public:
  Planning(const moves::Setting& setting, std::size_t list)
      : setting_(setting), chain_(setting.chain()), routine_(*setting.rules().routine) {
    plan_.list = list;
  }

  Plan all() {
    look(false);
    routes();
    look(true);
    for (const Step& step : plan_.steps) {
      plan_.walking_minutes += step.walking_minutes;
      plan_.looking_minutes += step.looking_minutes;
      plan_.listening_minutes += step.listening_minutes;
      plan_.stressing_minutes += step.stressing_minutes;
    }
    return std::move(plan_);
  }

 private:
  [[nodiscard]] bool is_on(std::size_t list) const {
    return routine_.lists[plan_.list].holds(list, plan_.list);
  }

  void look(bool after) {
    for (std::size_t index = 0; index < routine_.items.size(); ++index) {
      const faults::RoutineItem& item = routine_.items[index];
      if (item.after != after || !is_on(item.list)) continue;
      Step step;
      step.kind = Kind::look;
      step.name = item.name;
      step.item = index;
      step.from = step.to = setting_.installation().start;
      step.looking_minutes = item.minutes;
      add_once(plan_.cautions, item.cautions);
      plan_.steps.push_back(std::move(step));
    }
  }

  // Routes in the order of the installation; one that is checked along with its pair comes with it.
  void routes() {
    std::vector<std::vector<Step>> groups;
    std::vector<Stop> stops;
    for (const RouteId route : chain_.routes.ids()) {
      const RoutineSignal* one = signal_of(setting_, route);
      const auto pair = chain_.routes[route].pair;
      if (one == nullptr || !is_on(one->list)) {
        plan_.left_out.push_back(route);
        continue;
      }
      const bool together = one->pair && pair && signal_of(setting_, *pair) == one;
      if (together && *pair < route) continue;
      groups.push_back(steps_of(
          together ? std::vector<RouteId>{route, *pair} : std::vector<RouteId>{route}, *one));
      stops.push_back({groups.back().front().from, groups.back().front().to});
    }
    const int people = setting_.installation().people;
    const PlaceId start = setting_.installation().start;
    const Order order = least_walk(chain_.walking_minutes, people, start, stops);
    plan_.least_walking = order.least;
    plan_.walking_minutes_by_two = least_walk(chain_.walking_minutes, 2, start, stops).minutes;
    Stop at{start, start};
    for (const std::size_t index : order.stops) {
      groups[index].front().walking_minutes +=
          walk_between(chain_.walking_minutes, people, at, stops[index]);
      at = stops[index];
      for (Step& step : groups[index]) plan_.steps.push_back(std::move(step));
    }
  }

  std::vector<Step> steps_of(const std::vector<RouteId>& routes, const RoutineSignal& one) {
    std::vector<Step> steps = {begin(Kind::listen, "listen to", routes)};
    Step& listen = steps.front();
    listen.listening_minutes = one.minutes;
    if (one.stressed) {
      stress(listen);
      for (const auto& [element, id] : listen.stresses) {
        add_once(plan_.cautions, setting_.rules().stresses[id].cautions);
      }
    }
    for (const RouteId route : routes) {
      add_once(plan_.cautions, setting_.rules().signals[chain_.routes[route].signal].cautions);
    }
    if (one.sweep && is_on(one.sweep->list)) {
      steps.push_back(begin(Kind::sweep, "sweep", routes));
      steps.back().listening_minutes = one.sweep->minutes * static_cast<double>(routes.size());
    }
    if (!one.thresholds || !is_on(one.thresholds->list)) return steps;
    for (const RouteId route : routes) {
      steps.push_back(begin(Kind::thresholds, "thresholds on", {route}));
      steps.back().listening_minutes = one.thresholds->minutes;
    }
    return steps;
  }

  [[nodiscard]] Step begin(Kind kind, const std::string& verb,
                           const std::vector<RouteId>& routes) const {
    Step step;
    step.kind = kind;
    step.name = named(verb, chain_, routes);
    step.routes = routes;
    step.from = moves::source_place(chain_, routes.front());
    const chain::Route& first = chain_.routes[routes.front()];
    step.to = chain_.elements[chain_.conductors[first.to].element].place;
    return step;
  }

  // All that the routes' elements bear, once each, as somebody goes along.
  void stress(Step& step) const {
    bool elsewhere = false;
    for (const RouteId route : step.routes) {
      const chain::Path path = setting_.tracer().trace(route, chain_.home).path;
      for (const ElementId element : moves::elements_of(chain_, path)) {
        const chain::Element& piece = chain_.elements[element];
        for (const StressId id : setting_.rules().classes[piece.element_class].stresses) {
          const std::pair<ElementId, StressId> one{element, id};
          const auto& known = step.stresses;
          if (std::find(known.begin(), known.end(), one) != known.end()) continue;
          step.stresses.push_back(one);
          step.stressing_minutes += routine_.stress_minutes;
          elsewhere = elsewhere || piece.place != step.to;
        }
      }
    }
    if (elsewhere && setting_.installation().people < 2) {
      step.stressing_minutes += setting_.rules().handling.alone_minutes;
    }
  }

  const moves::Setting& setting_;
  const chain::Chain& chain_;
  const Routine& routine_;
  Plan plan_;
};

}  // namespace

const RoutineSignal* signal_of(const moves::Setting& setting, RouteId route) {
  const SignalId signal = setting.chain().routes[route].signal;
  for (const RoutineSignal& one : setting.rules().routine->signals) {
    if (one.signal == signal) return &one;
  }
  return nullptr;
}

Plan plan_of(const moves::Setting& setting, std::size_t list) {
  return Planning(setting, list).all();
}

Step alone(const moves::Setting& setting, const Step& pair, RouteId route) {
  Step step = pair;
  step.routes = {route};
  step.name = named(pair.kind == Kind::sweep ? "sweep" : "listen to", setting.chain(), {route});
  step.walking_minutes = 0;
  const chain::Path path = setting.tracer().trace(route, setting.chain().home).path;
  const std::vector<ElementId> along = moves::elements_of(setting.chain(), path);
  std::erase_if(step.stresses, [&](const auto& one) {
    return std::find(along.begin(), along.end(), one.first) == along.end();
  });
  return step;
}

std::string plays(const moves::Setting& setting, const Step& step) {
  const RoutineSignal* one = signal_of(setting, step.routes.front());
  if (step.kind == Kind::sweep) return one->sweep->words;
  if (step.kind == Kind::thresholds) return one->thresholds->words;
  const chain::Chain& chain = setting.chain();
  if (!step.is_pair()) {
    return setting.rules().signals[chain.routes[step.routes.front()].signal].words;
  }
  return with(with(one->pair->words, "{one}", chain.routes[step.routes[0]].name), "{other}",
              chain.routes[step.routes[1]].name);
}

std::string expects(const moves::Setting& setting, const Step& step) {
  const chain::Chain& chain = setting.chain();
  if (step.is_pair() && step.kind == Kind::listen) {
    const RoutineSignal* one = signal_of(setting, step.routes.front());
    return with(with(one->pair->expects, "{one}", chain.routes[step.routes[0]].name), "{other}",
                chain.routes[step.routes[1]].name);
  }
  const faults::Signal& signal = setting.rules().signals[chain.routes[step.routes.front()].signal];
  const faults::Symptom& sound = setting.rules().senses[signal.sense].symptoms.front();
  const auto own = signal.symptom_words.find(sound.name);
  return own == signal.symptom_words.end() ? sound.words : own->second;
}

}  // namespace whichlink::routine
