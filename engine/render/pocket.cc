#include "render/pocket.h"

#include <algorithm>

#include "moves/standing.h"
#include "render/case_words.h"
#include "render/text.h"

namespace whichlink::render {
namespace {

// A suspect below half a percent is not shown.
constexpr double kShown = 0.005;

Json answers_json(const faults::Rules& rules, const faults::Signal& signal, SenseId sense) {
  Json json = Json::array();
  for (const Answer& answer : answers_of(rules, signal, sense)) {
    json.push_back({{"heard", answer.name}, {"words", answer.words}});
  }
  return json;
}

Json route_json(const moves::Installation& installation, const chain::Route& route) {
  const faults::Rules& rules = installation.rules;
  const faults::Signal& signal = rules.signals[route.signal];
  const faults::Sense& sense = rules.senses[signal.sense];
  Json listeners = Json::array();
  for (const faults::Listener& one : sense.listeners) listeners.push_back(one.name);
  return {{"route", route.name},
          {"signal", signal.words},
          {"answers", answers_json(rules, signal, signal.sense)},
          {"levels", has_levels(sense)},
          {"listeners", listeners}};
}

Json suspects_json(const guide::Case& one, const plan::Picture& picture) {
  Json json = Json::array();
  for (const guide::Suspect& suspect : one.suspects(picture)) {
    json.push_back({{"fault", suspect.name},
                    {"words", suspect.words},
                    {"chance", suspect.chance},
                    {"percent", percent(suspect.chance)},
                    {"shown", suspect.chance >= kShown}});
  }
  return json;
}

Json parts_json(const guide::Case& one) {
  const chain::Chain& chain = one.setting().chain();
  Json json = Json::array();
  for (const PartSuspicion& part : suspicion_by_part(one)) {
    const chain::Part& thing = chain.parts[part.part];
    json.push_back({{"part", thing.name},
                    {"place", chain.places[thing.place].name},
                    {"chance", part.chance},
                    {"percent", percent(part.chance)},
                    {"in_the_way", part.in_the_way}});
  }
  return json;
}

Json done_json(const guide::Case& one) {
  Json json = Json::array();
  for (const guide::Step& step : one.steps()) {
    json.push_back({{"short", moves::short_words(one.setting(), step.move)},
                    {"heard", report_text(step.report)}});
  }
  return json;
}

Json others_json(const guide::Case& one, const guide::Advice& advice) {
  Json json = Json::array();
  for (const plan::Candidate& candidate : advice.plan.candidates) {
    json.push_back({{"move", candidate.move.name},
                    {"short", moves::short_words(one.setting(), candidate.move)},
                    {"now", minutes(candidate.move.minutes)},
                    {"to_the_end", minutes(candidate.expected_minutes)},
                    {"idle", candidate.idle}});
  }
  return json;
}

// What a step and an ending have in common.
Json case_so_far(const guide::Case& one, const plan::Picture& picture) {
  return {{"complaint", complaint_words(one)},
          {"steps", one.steps().size()},
          {"minutes", one.minutes_spent()},
          {"spent", minutes(one.minutes_spent())},
          {"suspects", suspects_json(one, picture)},
          {"parts", parts_json(one)},
          {"done", done_json(one)},
          {"put_back", moves::put_back_list(one.setting(), one.standing())}};
}

}  // namespace

Json pocket_start(const moves::Installation& installation) {
  Json routes = Json::array();
  for (const chain::Route& route : installation.chain.routes) {
    routes.push_back(route_json(installation, route));
  }
  return {{"installation", installation.name},
          {"cautions", caution_words(installation.rules, installation.rules.always)},
          {"days_since_pass", installation.rules.handling.default_days_since_pass},
          {"routes", routes}};
}

Json pocket_step(const guide::Case& one, const guide::Advice& advice, const plan::Picture& picture,
                 const moves::Move& move) {
  const moves::Setting& setting = one.setting();
  const faults::Rules& rules = setting.rules();
  const faults::Sense& sense = rules.senses[move.sense];
  const faults::Signal& signal = rules.signals[setting.chain().routes[move.heard_on].signal];
  Json json = case_so_far(one, picture);
  json["kind"] = "step";
  json["advised"] = advice.move->name;
  json["move"] = move.name;
  json["short"] = moves::short_words(setting, move);
  json["instruction"] = moves::instruction(setting, one.standing(), move);
  json["where"] = where_words(setting, move);
  json["cautions"] = caution_words(rules, move.cautions);
  json["why"] = expected_words(one, advice, move);
  json["asks"] = sense.asks;
  json["answers"] = answers_json(rules, signal, move.sense);
  json["levels"] = has_levels(sense);
  json["others"] = others_json(one, advice);
  return json;
}

Json pocket_ending(const guide::Case& one, guide::Stage stage, const plan::Picture& picture) {
  const EndingWords words = ending_words(one, one.ending(stage));
  Json blocks = Json::array();
  for (const EndingWords::Block& block : words.blocks) {
    blocks.push_back({{"title", block.title}, {"lines", block.lines}});
  }
  Json json = case_so_far(one, picture);
  json["kind"] = "ending";
  json["stage"] = guide::name_of(stage);
  json["title"] = words.title;
  json["summary"] = words.summary;
  json["blocks"] = blocks;
  return json;
}

}  // namespace whichlink::render
