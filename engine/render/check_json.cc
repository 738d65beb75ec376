#include "moves/standing.h"
#include "render/check_pages.h"
#include "render/check_words.h"
#include "routine/chances.h"

namespace whichlink::render {

using routine::Kind;
using routine::Step;
using routine::Verdict;

namespace {

Json report_if_any(const guide::Report& report) {
  return report.heard.empty() ? Json(nullptr) : report_json(report);
}

const char* kind_name(Kind kind) {
  switch (kind) {
    case Kind::look:
      return "look";
    case Kind::listen:
      return "listen";
    case Kind::sweep:
      return "sweep";
    case Kind::thresholds:
      return "thresholds";
  }
  return "";
}

Json step_json(const routine::Round& round, const Step& step) {
  const moves::Setting& setting = round.setting();
  const chain::Chain& chain = setting.chain();
  Json routes = Json::array();
  for (const RouteId route : step.routes) routes.push_back(chain.routes[route].name);
  Json stresses = Json::array();
  for (const auto& [element, stress] : step.stresses) {
    stresses.push_back(
        moves::with_it(setting.rules().stresses[stress].short_words, chain.elements[element].name));
  }
  return {{"step", step.name},
          {"kind", kind_name(step.kind)},
          {"routes", routes},
          {"from", chain.places[step.from].name},
          {"to", chain.places[step.to].name},
          {"stresses", stresses},
          {"walking_minutes", step.walking_minutes},
          {"looking_minutes", step.looking_minutes},
          {"listening_minutes", step.listening_minutes},
          {"stressing_minutes", step.stressing_minutes}};
}

Json when_json(const std::optional<routine::When>& when) {
  if (!when) return nullptr;
  const std::string words = when_words(when);
  return words.empty() ? guide::kNotSure : words;
}

Json level_json(const routine::Level& level) {
  return {{"route", level.route},
          {"reference", level.set},
          {"hz", level.hz},
          {"measured_db", level.measured_db},
          {"expected_db", level.expected_db},
          {"deviation_db", level.deviation_db},
          {"within_db", level.within_db},
          {"passed", level.passed}};
}

std::string verdict_name(Verdict verdict) {
  return verdict == Verdict::failed ? "failed" : verdict_words(verdict);
}

}  // namespace

Json check_json(const routine::Round& round) {
  const routine::Outcome outcome = round.outcome();
  const routine::Plan& plan = round.plan();
  const faults::Rules& rules = round.setting().rules();
  Json steps = Json::array();
  for (const Step& step : plan.steps) steps.push_back(step_json(round, step));
  Json routes = Json::array();
  for (const routine::RouteOutcome& route : outcome.routes) {
    routes.push_back(
        {{"route", route.route},
         {"verdict", verdict_name(route.verdict)},
         {"report", report_if_any(route.report)},
         {"when", when_json(route.when)},
         {"stressed", route.stressed},
         {"not_done", route.not_done},
         {"isolated", route.isolated ? Json(stage_words(*route.isolated)) : Json(nullptr)}});
  }
  Json items = Json::array();
  for (const routine::ItemOutcome& item : outcome.items) {
    items.push_back(
        {{"item", item.item}, {"answer", item.answer.empty() ? Json(nullptr) : Json(item.answer)}});
  }
  Json do_not_use = Json::array();
  Json works = Json::array();
  for (const routine::RouteOutcome& route : outcome.routes) {
    if (route.verdict == Verdict::failed) do_not_use.push_back(route.route);
    if (route.verdict == Verdict::passed) works.push_back(route.route);
  }
  Json levels = Json::array();
  for (const routine::Level& level : outcome.levels) levels.push_back(level_json(level));
  Json trip = nullptr;
  if (rules.routine->trip) {
    const auto cost = routine::trip_cost(round.setting(), plan.list, round.trip_db());
    trip = {{"trip_db", round.trip_db()},
            {"thresholds", cost.thresholds},
            {"chance_false_alarm", cost.false_alarm}};
  }
  return {{"installation", outcome.installation},
          {"list", outcome.list},
          {"listener", outcome.listener},
          {"at", outcome.at},
          {"minutes",
           {{"listening", plan.listening_minutes},
            {"stressing", plan.stressing_minutes},
            {"walking", plan.walking_minutes},
            {"looking", plan.looking_minutes}}},
          {"least_walking", plan.least_walking},
          {"chance_false_alarm",
           routine::chance_false_alarm_of_list(round.setting(), plan.list, outcome.listener)},
          {"trip", trip},
          {"steps", steps},
          {"complete", outcome.complete},
          {"routes", routes},
          {"items", items},
          {"levels", levels},
          {"do_not_use", do_not_use},
          {"before_use", do_not_use.empty() ? Json::array() : Json(rules.routine->if_failed)},
          {"works_meanwhile", works},
          {"cautions", all_cautions(round)}};
}

}  // namespace whichlink::render
