#include "routine/round.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "guide/case.h"
#include "routine/chances.h"

namespace whichlink::routine {
namespace {

// No ear and no meter of these rules tells a change beyond this one.
constexpr double kMostChangeDb = 120;

std::string plain_db(double value) {
  return fmt::format("{:g}", value);
}

std::vector<std::string> listeners_of(const faults::Rules& rules) {
  std::vector<std::string> names;
  for (const faults::Sense& sense : rules.senses) {
    for (const faults::Listener& one : sense.listeners) {
      if (std::find(names.begin(), names.end(), one.name) == names.end()) names.push_back(one.name);
    }
  }
  return names;
}

Problem unknown(const Place& place, const std::string& kind, const std::string& given,
                const std::vector<std::string>& known) {
  return {place, "unknown " + kind + " \"" + given + "\"", one_of(known), nearest(given, known)};
}

bool is_on(const Step& step, RouteId route) {
  return std::find(step.routes.begin(), step.routes.end(), route) != step.routes.end();
}

std::optional<Problem> among(const Said& said, const std::vector<std::string>& known) {
  if (std::find(known.begin(), known.end(), said.report.heard) != known.end() &&
      !said.report.drop_db) {
    return std::nullopt;
  }
  return unknown(said.place, "answer", said.report.heard, known);
}

}  // namespace

Round::Round(const moves::Setting& setting, CheckFile events)
    : setting_(setting), events_(std::move(events)) {}

Result<std::unique_ptr<Round>> Round::open(const moves::Setting& setting, CheckFile events) {
  std::vector<Event> to_do;
  to_do.swap(events.done);
  std::unique_ptr<Round> one(new Round(setting, std::move(events)));
  if (const auto problem = one->begin()) return tl::unexpected(Problems{*problem});
  for (const Event& event : to_do) {
    if (const auto problem = one->take(event)) return tl::unexpected(Problems{*problem});
  }
  return one;
}

std::optional<Problem> Round::begin() {
  const faults::Rules& rules = setting_.rules();
  if (!rules.routine) {
    return Problem{events_.list_place, "the rules of this installation have no routine check",
                   "rules with a key `routine`", ""};
  }
  std::vector<std::string> lists;
  for (const faults::RoutineList& list : rules.routine->lists) lists.push_back(list.name);
  std::size_t list = 0;
  if (!events_.list.empty()) {
    const auto found = std::find(lists.begin(), lists.end(), events_.list);
    if (found == lists.end()) return unknown(events_.list_place, "list", events_.list, lists);
    list = static_cast<std::size_t>(found - lists.begin());
  }
  const std::vector<std::string> listeners = listeners_of(rules);
  if (!events_.listener.empty() &&
      std::find(listeners.begin(), listeners.end(), events_.listener) == listeners.end()) {
    return unknown(events_.listener_place, "listener", events_.listener, listeners);
  }
  if (rules.routine->trip) {
    const faults::TripLevel& trip = *rules.routine->trip;
    trip_db_ = events_.trip_db.value_or(trip.usual_db);
    if (std::find(trip.choices_db.begin(), trip.choices_db.end(), trip_db_) ==
        trip.choices_db.end()) {
      std::vector<std::string> choices;
      for (const double db : trip.choices_db) choices.push_back(plain_db(db));
      return Problem{events_.trip_place, plain_db(trip_db_) + " dB is no trip level here",
                     one_of(choices), ""};
    }
  } else if (events_.trip_db) {
    return Problem{events_.trip_place, "these rules take no thresholds", "no trip level", ""};
  }
  plan_ = plan_of(setting_, list);
  steps_ = plan_.steps;
  at_ = 0;
  routes_ = {};
  routes_.resize(setting_.chain().routes.size());
  failed_.clear();
  levels_.clear();
  item_answers_.assign(rules.routine->items.size(), "");
  return std::nullopt;
}

std::optional<Problem> Round::take(const Event& event) {
  std::optional<Problem> problem;
  if (const auto* said = std::get_if<Said>(&event)) {
    problem = take_said(*said);
  } else if (const auto* read = std::get_if<Read>(&event)) {
    problem = take_read(*read);
  } else {
    problem = take_isolated(std::get<Isolated>(event));
  }
  if (!problem) events_.done.push_back(event);
  return problem;
}

bool Round::take_back() {
  std::vector<Event> kept = events_.done;
  while (!kept.empty() && std::holds_alternative<Isolated>(kept.back())) kept.pop_back();
  if (kept.empty()) return false;
  kept.pop_back();
  events_.done.clear();
  bool fine = !begin().has_value();
  for (const Event& event : kept) fine = fine && !take(event).has_value();
  return fine;
}

std::optional<Problem> Round::take_said(const Said& said) {
  const Step* step = now();
  if (step == nullptr) {
    return Problem{said.place, "the check is through", "no more answers", ""};
  }
  if (said.step != step->name) {
    return Problem{said.place, "\"" + said.step + "\" is not the step whose turn it is", step->name,
                   ""};
  }
  const Step answered = *step;  // an answer may add steps behind it
  std::optional<Problem> problem;
  switch (answered.kind) {
    case Kind::look:
      problem = among(said, {kYes, kNo, guide::kCannotDo});
      if (!problem) item_answers_[*answered.item] = said.report.heard;
      break;
    case Kind::listen:
      problem = answered.is_pair() ? heard_on_pair(said) : heard_on_route(said);
      break;
    case Kind::sweep:
      problem = swept(said);
      break;
    case Kind::thresholds:
      problem = tried_thresholds(said);
      break;
  }
  if (problem) return problem;
  const bool undone = said.report.heard == guide::kNotSure || said.report.heard == guide::kCannotDo;
  if (undone && !said.report.drop_db) {
    for (const RouteId route : answered.routes) routes_[route].not_done.push_back(answered.name);
  }
  ++at_;
  settle_suspicion();
  return std::nullopt;
}

std::optional<Problem> Round::heard_on_pair(const Said& said) {
  const Step& step = steps_[at_];
  if (auto problem = among(said, {kAsItShould, kSwapped, kOneSide, kBothInOne, kNotRight,
                                  guide::kNotSure, guide::kCannotDo})) {
    return problem;
  }
  const std::string& heard = said.report.heard;
  if (heard == kOneSide || heard == kBothInOne || heard == kNotRight) {
    for (const RouteId route : step.routes) routes_[route].suspected = true;
    ask_each_alone();
    return std::nullopt;
  }
  for (const RouteId route : step.routes) {
    RouteState& state = routes_[route];
    if (heard == kAsItShould) {
      state.listened = true;
      state.under_stress = !step.stresses.empty();
    } else if (heard == kSwapped) {
      const auto& elsewhere = sense_of(route).elsewhere;
      fail(route, {elsewhere ? elsewhere->name : guide::kNotSure, {}}, When::untouched);
    } else {
      state.report = said.report;
    }
  }
  return std::nullopt;
}

std::optional<Problem> Round::heard_on_route(const Said& said) {
  const Step& step = steps_[at_];
  const RouteId route = step.routes.front();
  RouteState& state = routes_[route];
  const std::string& heard = said.report.heard;
  const bool no_report = heard == guide::kNotSure || heard == guide::kCannotDo;
  if (no_report && !said.report.drop_db) {
    state.report = said.report;
    return std::nullopt;
  }
  const faults::Sense& sense = sense_of(route);
  if (said.report.drop_db && !(*said.report.drop_db > 0 && *said.report.drop_db <= kMostChangeDb)) {
    return Problem{said.place, plain_db(*said.report.drop_db) + " dB is no drop",
                   "above 0, at most 120 dB", ""};
  }
  const auto weights = guide::weights_of(sense, said.report, said.place);
  if (!weights) return weights.error().front();
  if (heard == sense.symptoms.front().name && !said.report.drop_db) {
    state.listened = true;
    state.under_stress = !step.stresses.empty();
    return std::nullopt;
  }
  fail(route, said.report,
       step.stresses.empty() ? When::untouched : said.when.value_or(When::not_sure));
  return std::nullopt;
}

// A tone that should be just audible and is not: the level is down, by how much nobody knows. It
// goes on as the mildest symptom that is a level.
std::optional<Problem> Round::swept(const Said& said) {
  const Step& step = steps_[at_];
  if (auto problem = among(said, {kYes, kNo, guide::kNotSure, guide::kCannotDo})) return problem;
  if (said.report.heard != kNo) return std::nullopt;
  if (step.is_pair()) {
    for (const RouteId route : step.routes) routes_[route].suspected = true;
    ask_each_alone();
    return std::nullopt;
  }
  const RouteId route = step.routes.front();
  const std::vector<faults::Symptom>& symptoms = sense_of(route).symptoms;
  const auto level = std::find_if(symptoms.begin(), symptoms.end(), [](const faults::Symptom& one) {
    return one.drop_db.has_value();
  });
  fail(route, {level == symptoms.end() ? guide::kNotSure : level->name, {}}, When::untouched);
  return std::nullopt;
}

std::optional<Problem> Round::tried_thresholds(const Said& said) {
  if (said.report.drop_db) {
    const double change = *said.report.drop_db;
    if (!(std::abs(change) <= kMostChangeDb) || change == 0) {
      return Problem{said.place, plain_db(change) + " dB is no change of a threshold",
                     "-120 to 120 dB, not 0", ""};
    }
    if (counts_as_changed(change, trip_db_, setting_.rules().routine->trip->step_db)) {
      fail(steps_[at_].routes.front(), {"weak", std::abs(change)}, When::untouched);
    }
    return std::nullopt;
  }
  return among(said, {kWithin, guide::kNotSure, guide::kCannotDo});
}

// Both sides of a pair singly, right after it.
void Round::ask_each_alone() {
  const Step pair = steps_[at_];
  std::size_t next = at_ + 1;
  for (const RouteId route : pair.routes) {
    steps_.insert(steps_.begin() + static_cast<std::ptrdiff_t>(next++),
                  alone(setting_, pair, route));
  }
}

// What was wrong with a pair stays wrong although each side sounded well alone: it comes and goes,
// or it is between the two.
void Round::settle_suspicion() {
  const Step& last = steps_[at_ - 1];
  if (last.routes.size() != 1 || !routes_[last.routes.front()].suspected) return;
  const std::optional<RouteId> pair = setting_.chain().routes[last.routes.front()].pair;
  const bool other_to_come = at_ < steps_.size() && pair && steps_[at_].routes.size() == 1 &&
                             steps_[at_].routes.front() == *pair && steps_[at_].kind == last.kind;
  if (other_to_come) return;
  const RouteId one = last.routes.front();
  const bool found = routes_[one].failed || (pair && routes_[*pair].failed);
  for (const RouteId route : pair ? std::vector<RouteId>{*pair, one} : std::vector<RouteId>{one}) {
    routes_[route].suspected = false;
    if (!found) fail(route, {guide::kNotSure, {}}, When::not_sure);
  }
}

std::optional<Problem> Round::take_read(const Read& read) {
  const Step* step = now();
  const chain::Chain& chain = setting_.chain();
  std::vector<std::string> names;
  if (step != nullptr) {
    for (const RouteId route : step->routes) names.push_back(chain.routes[route].name);
  }
  const auto found = std::find(names.begin(), names.end(), read.route);
  if (found == names.end()) {
    if (names.empty()) {
      return Problem{read.place, "there is no route to read a level of now", "an answer", ""};
    }
    return unknown(read.place, "route", read.route, names);
  }
  const RouteId route = step->routes[static_cast<std::size_t>(found - names.begin())];
  const auto level = level_of(setting_, route, read.set, read.hz, read.measured_db, read.place);
  if (!level) return level.error().front();
  if (level->drop_db && *level->drop_db > kMostChangeDb) {
    return Problem{read.place,
                   plain_db(read.measured_db) + " dB is " + plain_db(*level->drop_db) +
                       " dB away from what it should be",
                   "a reading within 120 dB of it", ""};
  }
  levels_.push_back(*level);
  if (level->drop_db) fail(route, {"weak", level->drop_db}, When::untouched);
  return std::nullopt;
}

std::optional<Problem> Round::take_isolated(const Isolated& isolated) {
  const std::vector<RouteId> open = to_isolate();
  std::vector<std::string> names;
  names.reserve(open.size());
  for (const RouteId route : open) names.push_back(setting_.chain().routes[route].name);
  const auto found = std::find(names.begin(), names.end(), isolated.route);
  if (found == names.end()) {
    return Problem{isolated.place,
                   "\"" + isolated.route + "\" is no route that waits for isolation",
                   names.empty() ? "an answer" : one_of(names), nearest(isolated.route, names)};
  }
  routes_[open[static_cast<std::size_t>(found - names.begin())]].isolated = isolated.stage;
  return std::nullopt;
}

void Round::fail(RouteId route, const guide::Report& report, std::optional<When> when) {
  RouteState& state = routes_[route];
  if (state.failed) return;  // the first thing wrong is the evidence; the rest follows from it
  state.failed = true;
  state.report = report;
  state.when = when;
  failed_.push_back(route);
}

std::vector<RouteId> Round::to_isolate() const {
  std::vector<RouteId> open;
  for (const RouteId route : failed_) {
    // The other side of a pair is heard first: it is evidence, and isolation moves plugs.
    if (!routes_[route].isolated && !routes_[route].suspected) open.push_back(route);
  }
  return open;
}

const faults::Sense& Round::sense_of(RouteId route) const {
  return setting_.rules()
      .senses[setting_.rules().signals[setting_.chain().routes[route].signal].sense];
}

Outcome Round::outcome() const {
  const faults::Rules& rules = setting_.rules();
  Outcome outcome;
  outcome.installation = setting_.installation().name;
  outcome.model = events_.model;
  outcome.list = rules.routine->lists[plan_.list].name;
  outcome.listener = events_.listener;
  outcome.at = events_.at;
  outcome.complete = now() == nullptr;
  for (const RouteId route : setting_.chain().routes.ids()) {
    const RouteState& state = routes_[route];
    RouteOutcome one;
    one.route = setting_.chain().routes[route].name;
    one.report = state.report;
    one.when = state.when;
    one.stressed = state.under_stress;
    one.isolated = state.isolated;
    one.not_done = state.not_done;
    for (std::size_t next = at_; next < steps_.size(); ++next) {
      if (is_on(steps_[next], route)) one.not_done.push_back(steps_[next].name);
    }
    const bool to_come = one.not_done.size() > state.not_done.size();
    if (state.failed) {
      one.verdict = state.isolated == guide::Stage::mended ? Verdict::mended : Verdict::failed;
    } else if (state.listened && !to_come) {
      one.verdict = Verdict::passed;
    }
    outcome.routes.push_back(std::move(one));
  }
  for (const Step& step : plan_.steps) {
    if (step.kind == Kind::thresholds) outcome.trip_db = trip_db_;
    if (!step.item) continue;
    outcome.items.push_back({rules.routine->items[*step.item].name, item_answers_[*step.item]});
  }
  outcome.levels = levels_;
  return outcome;
}

}  // namespace whichlink::routine
