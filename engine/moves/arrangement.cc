#include "moves/arrangement.h"

#include <algorithm>

#include "moves/standing.h"

namespace whichlink::moves {
namespace {

using chain::Patching;

bool comes_out(const Setting& setting, RouteId route, const Patching& patching) {
  return setting.tracer().trace(route, patching).path.complete;
}

struct CrossablePair {
  ElementId plug_a, plug_b;
  Patching patching;
};

std::vector<CrossablePair> crossable(const Setting& setting, RouteId route) {
  const chain::Chain& chain = setting.chain();
  std::vector<CrossablePair> found;
  const std::optional<RouteId> pair = chain.routes[route].pair;
  if (!pair) return found;
  const auto ours = elements_of(chain, setting.tracer().trace(route, chain.home).path);
  const auto theirs = elements_of(chain, setting.tracer().trace(*pair, chain.home).path);
  for (const ElementId a : ours) {
    for (const ElementId b : theirs) {
      const auto jack_a = chain.home.plug_in[a];
      const auto jack_b = chain.home.plug_in[b];
      if (a == b || !jack_a || !jack_b || jack_a == jack_b) continue;
      if (chain.elements[a].place != chain.elements[b].place) continue;
      if (!chain::fits(chain, a, *jack_b) || !chain::fits(chain, b, *jack_a)) continue;
      Patching crossed = with_changes(chain, chain.home, {{a, jack_b}, {b, jack_a}});
      if (!comes_out(setting, route, crossed) || !comes_out(setting, *pair, crossed)) continue;
      found.push_back({a, b, std::move(crossed)});
    }
  }
  return found;
}

}  // namespace

std::vector<Arrangement> arrangements_of(const Setting& setting, RouteId route) {
  const chain::Chain& chain = setting.chain();
  std::vector<Arrangement> all = {{1.0, chain.home, "", {}}};
  if (!setting.rules().crossing) return all;
  const double chance =
      chance_within(setting.rules().crossing->rate.mid_per_year, setting.days_since_pass());
  for (CrossablePair& pair : crossable(setting, route)) {
    Arrangement crossed;
    // At most one pair is crossed: the weights of "this one alone" are scaled to add up to 1 below.
    crossed.prior = chance / (1 - chance);
    crossed.words = chain.elements[pair.plug_a].name + " and " + chain.elements[pair.plug_b].name +
                    " are in each other's jack";
    crossed.crossed = {pair.plug_a, pair.plug_b};
    crossed.patching = std::move(pair.patching);
    all.push_back(std::move(crossed));
  }
  double total = 0;
  for (const Arrangement& one : all) total += one.prior;
  for (Arrangement& one : all) one.prior /= total;
  return all;
}

chain::Patching patched_after(const Setting& setting, const Standing& standing, const Move& move,
                              const chain::Patching& real) {
  const chain::Chain& chain = setting.chain();
  if (const auto* cross = std::get_if<CrossPlugs>(&move.action)) {
    return with_changes(chain, real,
                        {{cross->plug_a, real.plug_in[cross->plug_b]},
                         {cross->plug_b, real.plug_in[cross->plug_a]}});
  }
  if (const auto* swap = std::get_if<Substitute>(&move.action)) {
    return with_changes(chain, real, substitution(chain, real, *swap));
  }
  if (const auto* swap = std::get_if<TakeOut>(&move.action)) {
    return with_changes(chain, real, substitution(chain, real, {swap->in, swap->out}));
  }
  if (std::holds_alternative<TraceLabels>(move.action)) {
    std::vector<PlugChange> right;
    const auto put_right = [&](RouteId route) {
      for (const ElementId element :
           elements_of(chain, setting.tracer().trace(route, chain.home).path)) {
        const auto wanted = standing.patching.plug_in[element];
        if (wanted && real.plug_in[element] != wanted) right.push_back({element, wanted});
      }
    };
    put_right(standing.route);
    if (const auto pair = chain.routes[standing.route].pair) put_right(*pair);
    return with_changes(chain, real, right);
  }
  return with_changes(chain, real, move.changes);
}

namespace {

// Every stress along the route, as somebody goes along what is plugged there.
std::vector<std::pair<ElementId, StressId>> stresses_of_route(const Setting& setting, RouteId route,
                                                              const Patching& patching) {
  std::vector<std::pair<ElementId, StressId>> found;
  for (const ElementId element :
       elements_of(setting.chain(), setting.tracer().trace(route, patching).path)) {
    const ClassId element_class = setting.chain().elements[element].element_class;
    for (const StressId stress : setting.rules().classes[element_class].stresses) {
      found.emplace_back(element, stress);
    }
  }
  return found;
}

/// What a move does to one element, before it is turned into numbers.
struct Handled {
  bool disturbed = false;
  bool replugged = false;
  std::vector<StressId> stresses;
  std::optional<RemedyId> remedy;
};

class Handling {
 public:
  Handling(const Setting& setting, const Move& move, const Patching& before,
           const Patching& real_after)
      : setting_(setting), chain_(setting.chain()), after_(real_after) {
    handled_.resize(chain_.elements.size());
    for (const ElementId plug : chain_.elements.ids()) {
      if (before.plug_in[plug] == real_after.plug_in[plug]) continue;
      replug(plug);
      if (before.plug_in[plug]) replug(*before.plug_in[plug]);
      if (real_after.plug_in[plug]) replug(*real_after.plug_in[plug]);
    }
    if (const auto* stress = std::get_if<ApplyStress>(&move.action)) {
      // One thing at a time: the other hand holds still what is joined to it.
      act_on(stress->element, true, false,
             [&](Handled& one) { one.stresses.push_back(stress->stress); });
    } else if (std::holds_alternative<StressRoute>(move.action)) {
      for (const auto& [element, id] : stresses_of_route(setting, move.heard_on, real_after)) {
        const StressId given = id;
        act_on(element, true, true, [&](Handled& one) { one.stresses.push_back(given); });
      }
    } else if (const auto* treat = std::get_if<Treat>(&move.action)) {
      const faults::Remedy& remedy = setting.rules().remedies[treat->remedy];
      act_on(treat->element, remedy.whole_joint, true, [&](Handled& one) {
        one.remedy = treat->remedy;
        one.replugged = one.replugged || remedy.unplugs;
      });
    } else if (const auto* measure = std::get_if<Measure>(&move.action)) {
      for (const ElementId element : chain_.parts[measure->part].elements) {
        disturb(element);
        const auto partner = chain::mate(chain_, real_after, element);
        if (!partner) continue;
        replug(element);
        replug(*partner);
      }
    }
  }

  [[nodiscard]] const Handled& at(ElementId element) const { return handled_[element]; }

 private:
  void disturb(ElementId element) { handled_[element].disturbed = true; }
  void disturb_around(ElementId element) {
    disturb(element);
    for (const ElementId other : setting_.bonded_to(element)) disturb(other);
  }
  void replug(ElementId element) {
    handled_[element].replugged = true;
    disturb_around(element);
  }
  template <class Change>
  void act_on(ElementId element, bool with_mate, bool moves_around, Change change) {
    std::vector<ElementId> both = {element};
    const auto partner = chain::mate(chain_, after_, element);
    if (partner && with_mate) both.push_back(*partner);
    for (const ElementId one : both) {
      change(handled_[one]);
      disturb(one);
      if (moves_around) disturb_around(one);
    }
  }

  const Setting& setting_;
  const chain::Chain& chain_;
  const Patching& after_;
  IdVector<ElementId, Handled> handled_;
};

using belief::StateMatrix;

// Keeps quiet/showing with chance `stays`, draws it anew otherwise.
StateMatrix drawn_anew(double stays, double chance_shows) {
  const double to_showing = (1 - stays) * chance_shows;
  const double to_quiet = (1 - stays) * (1 - chance_shows);
  return {{{1, 0, 0}, {0, stays + to_quiet, to_showing}, {0, to_quiet, stays + to_showing}}};
}

StateMatrix cured(double chance) {
  return {{{1, 0, 0}, {chance, 1 - chance, 0}, {chance, 0, 1 - chance}}};
}

StateMatrix caused(double chance, double chance_shows) {
  return {{{1 - chance, chance * (1 - chance_shows), chance * chance_shows}, {0, 1, 0}, {0, 0, 1}}};
}

double chance_in(const std::map<StressId, double>& chances, StressId stress) {
  const auto found = chances.find(stress);
  return found == chances.end() ? 0 : found->second;
}

StateMatrix matrix_of(const faults::Mode& mode, const Handled& handled) {
  const double stays = handled.disturbed ? mode.stays_disturbed : mode.stays_left_alone;
  StateMatrix matrix = drawn_anew(stays, mode.chance_shows);
  if (handled.replugged) {
    matrix = belief::then(matrix, cured(mode.cured_by_replug));
    matrix = belief::then(matrix, caused(mode.caused_by_replug, mode.chance_shows));
  }
  if (handled.remedy) {
    const auto success = mode.remedies.find(*handled.remedy);
    if (success != mode.remedies.end()) matrix = belief::then(matrix, cured(success->second));
  }
  // What several stresses provoke is heard if any one of them brings it out.
  double stays_quiet = 1;
  bool provoked = false;
  for (const StressId stress : handled.stresses) {
    matrix = belief::then(matrix, cured(chance_in(mode.cured_by_stress, stress)));
    provoked = provoked || mode.provoked_by.contains(stress);
    stays_quiet *= 1 - chance_in(mode.provoked_by, stress);
  }
  if (provoked) matrix = belief::then(matrix, drawn_anew(0, 1 - stays_quiet));
  return matrix;
}

std::vector<belief::Transition> transitions_of(const Setting& setting, const Move& move,
                                               const Patching& before, const Patching& real_after) {
  const Handling handling(setting, move, before, real_after);
  std::vector<belief::Transition> transitions;
  for (const FaultId id : setting.faults().ids()) {
    const Fault& fault = setting.faults()[id];
    const faults::Unlisted& unlisted = setting.rules().unlisted;
    const StateMatrix matrix =
        fault.mode ? matrix_of(setting.rules().modes[*fault.mode], handling.at(*fault.element))
                   : drawn_anew(unlisted.stays, unlisted.chance_shows);
    if (matrix != belief::kIdentity) transitions.push_back({id.value, matrix});
  }
  return transitions;
}

// Where a signal comes out, as a listener at `expected` takes it.
enum class Emerges { here, elsewhere, nowhere };

Emerges emerges(const Setting& setting, RouteId route, const chain::Path& real,
                ConductorId expected) {
  if (!real.complete) return Emerges::nowhere;
  const ConductorId end = real.conductors.back();
  if (end == expected) return Emerges::here;
  const chain::Chain& chain = setting.chain();
  const auto pair = chain.routes[route].pair;
  const bool in_earshot = end == chain.routes[route].to || (pair && end == chain.routes[*pair].to);
  return in_earshot ? Emerges::elsewhere : Emerges::nowhere;
}

std::vector<std::vector<double>> report_of(const faults::Sense& sense, std::size_t listener,
                                           Emerges emerges) {
  std::vector<std::vector<double>> report = sense.listeners[listener].report;
  const std::size_t last = sense.severities() - 1;
  for (std::size_t severity = 0; severity <= last; ++severity) {
    std::vector<double>& row = report[severity];
    if (emerges == Emerges::nowhere) row = sense.listeners[listener].report[last];
    double noticed = 0;
    if (emerges == Emerges::elsewhere && severity != last) noticed = sense.chance_elsewhere_noticed;
    if (!sense.elsewhere) continue;
    for (double& chance : row) chance *= 1 - noticed;
    row.push_back(noticed);
  }
  return report;
}

struct Heard {
  std::vector<std::uint32_t> path;
  std::vector<std::vector<double>> report;
};

Heard hear(const Setting& setting, RouteId route, const Patching& taken, const Patching& real,
           const faults::Sense& sense, std::size_t listener) {
  const chain::Path actual = setting.tracer().trace(route, real).path;
  const chain::Path expected = taken == real ? actual : setting.tracer().trace(route, taken).path;
  const ConductorId listens_at =
      expected.complete ? expected.conductors.back() : setting.chain().routes[route].to;
  const Emerges where = emerges(setting, route, actual, listens_at);
  Heard heard;
  heard.report = report_of(sense, listener, where);
  if (where == Emerges::nowhere) return heard;
  for (const FaultId fault : setting.faults_on(actual, route)) heard.path.push_back(fault.value);
  return heard;
}

// A meter at one part sees the lanes of that part that the route runs through.
std::vector<std::uint32_t> measured_path(const Setting& setting, const Measure& measure,
                                         RouteId route, const Patching& taken) {
  const chain::Chain& chain = setting.chain();
  std::vector<std::uint32_t> path;
  for (const ConductorId conductor : setting.tracer().trace(route, taken).path.conductors) {
    if (chain.elements[chain.conductors[conductor].element].part != measure.part) continue;
    for (const FaultId fault : setting.faults_at(conductor)) path.push_back(fault.value);
  }
  std::sort(path.begin(), path.end());
  path.erase(std::unique(path.begin(), path.end()), path.end());
  return path;
}

std::vector<double> no_leak(const faults::Sense& sense) {
  std::vector<double> leak_at_most(sense.severities(), 1.0);
  return leak_at_most;
}

// A sound element that is stressed may crackle for no reason that matters.
std::vector<double> leak_of(const Setting& setting, const Move& move, const Patching& real,
                            const faults::Sense& sense) {
  std::vector<double> leak = no_leak(sense);
  if (move.sense != SenseId{0}) return leak;
  std::vector<StressId> stresses;
  if (const auto* one = std::get_if<ApplyStress>(&move.action)) stresses = {one->stress};
  if (std::holds_alternative<StressRoute>(move.action)) {
    for (const auto& [element, stress] : stresses_of_route(setting, move.heard_on, real)) {
      stresses.push_back(stress);
    }
  }
  for (const StressId stress : stresses) {
    double at_most = 0;
    for (std::size_t severity = 0; severity + 1 < leak.size(); ++severity) {
      at_most = std::min(1.0, at_most + setting.rules().stresses[stress].false_alarm[severity]);
      leak[severity] *= at_most;
    }
  }
  return leak;
}

}  // namespace

belief::Question question_of(const Setting& setting, const Standing& standing, const Move& move,
                             const chain::Patching& real, std::size_t listener) {
  const faults::Sense& sense = setting.rules().senses[move.sense];
  const chain::Patching real_after = patched_after(setting, standing, move, real);
  const chain::Patching taken_after =
      with_changes(setting.chain(), standing.patching, move.changes);
  belief::Question question;
  question.transitions = transitions_of(setting, move, real, real_after);
  question.sense = move.sense.value;
  question.leak_at_most = leak_of(setting, move, real_after, sense);
  if (const auto* measure = std::get_if<Measure>(&move.action)) {
    question.path = measured_path(setting, *measure, standing.route, taken_after);
    question.report = report_of(sense, listener, Emerges::here);
    return question;
  }
  Heard heard = hear(setting, move.heard_on, taken_after, real_after, sense, listener);
  question.path = std::move(heard.path);
  question.report = std::move(heard.report);
  return question;
}

belief::Question complaint_of(const Setting& setting, RouteId route, const chain::Patching& real,
                              std::size_t listener) {
  const faults::Signal& signal = setting.rules().signals[setting.chain().routes[route].signal];
  const faults::Sense& sense = setting.rules().senses[signal.sense];
  Heard heard = hear(setting, route, setting.chain().home, real, sense, listener);
  belief::Question question;
  question.sense = signal.sense.value;
  question.leak_at_most = no_leak(sense);
  question.path = std::move(heard.path);
  question.report = std::move(heard.report);
  return question;
}

belief::Slice settling(const Setting& setting, SenseId sense) {
  belief::Slice slice;
  for (const FaultId id : setting.faults().ids()) {
    const Fault& fault = setting.faults()[id];
    const faults::Unlisted& unlisted = setting.rules().unlisted;
    const Handled disturbed{true, false, {}, {}};
    const StateMatrix matrix = fault.mode ? matrix_of(setting.rules().modes[*fault.mode], disturbed)
                                          : drawn_anew(unlisted.stays, unlisted.chance_shows);
    if (matrix != belief::kIdentity) slice.transitions.push_back({id.value, matrix});
  }
  slice.hearing.sense = sense.value;
  slice.hearing.leak_at_most = no_leak(setting.rules().senses[sense]);
  slice.hearing.chance_of_report.assign(setting.rules().senses[sense].severities(), 1.0);
  return slice;
}

}  // namespace whichlink::moves
