#include "render/json.h"

#include "moves/standing.h"
#include "render/pages.h"

namespace whichlink::render {

Json report_json(const guide::Report& report) {
  Json json = {{"heard", report.heard}};
  if (report.drop_db) json["drop_db"] = *report.drop_db;
  return json;
}

namespace {

Json move_json(const moves::Setting& setting, const moves::Standing& standing,
               const moves::Move& move) {
  const chain::Chain& chain = setting.chain();
  Json cautions = Json::array();
  for (const std::size_t caution : move.cautions) {
    cautions.push_back(setting.rules().cautions[caution].words);
  }
  return {{"move", move.name},
          {"instruction", moves::instruction(setting, standing, move)},
          {"minutes", move.minutes},
          {"place", chain.places[move.acts_at].name},
          {"listens_at", chain.places[move.ends_at].name},
          {"sense", setting.rules().senses[move.sense].name},
          {"cautions", cautions}};
}

Json candidate_json(const guide::Case& one, const plan::Candidate& candidate) {
  const moves::Setting& setting = one.setting();
  Json json = move_json(setting, one.standing(), candidate.move);
  json["bits"] = one.belief().bits(one.standing(), candidate.move);
  json["expected_minutes"] = candidate.expected_minutes;
  const faults::Sense& sense = setting.rules().senses[candidate.move.sense];
  Json outcomes = Json::array();
  for (std::size_t index = 0; index < candidate.prediction.size(); ++index) {
    const plan::PredictedOutcome& outcome = candidate.prediction[index];
    outcomes.push_back({{"heard", sense.outcome_name(index)},
                        {"chance", outcome.chance},
                        {"something_wrong", outcome.something_wrong}});
  }
  json["outcomes"] = outcomes;
  return json;
}

Json ahead_json(const plan::Ahead& ahead) {
  return {{"plan_minutes", ahead.upper},
          {"no_plan_under", ahead.lower},
          {"first_move", ahead.move ? Json(ahead.move->name) : Json(nullptr)},
          {"faults", ahead.faults},
          {"standings", ahead.standings},
          {"kept", ahead.kept}};
}

Json suspects_json(const std::vector<guide::Suspect>& suspects) {
  Json json = Json::array();
  for (const guide::Suspect& suspect : suspects) {
    json.push_back({{"fault", suspect.name},
                    {"words", suspect.words},
                    {"family", suspect.family},
                    {"chance", suspect.chance}});
  }
  return json;
}

Json complaint_json(const guide::Case& one) {
  Json json = report_json(one.events().complaint);
  json["route"] = one.events().route;
  json["days_since_pass"] = one.setting().days_since_pass();
  return json;
}

Json ending_json(const guide::Ending& ending) {
  return {{"stage", guide::name_of(ending.stage)},
          {"causes", suspects_json(ending.causes)},
          {"repairs", ending.repairs},
          {"verified", ending.verified},
          {"put_back", ending.put_back},
          {"needs_after", ending.needs_after},
          {"throw_out", ending.throw_out},
          {"return_to_drawer", ending.return_to_drawer},
          {"works_meanwhile", ending.works_meanwhile},
          {"do_not_use", ending.do_not_use},
          {"ruled_out", ending.ruled_out},
          {"still_wrong", ending.still_wrong},
          {"unlisted", ending.unlisted}};
}

Json posterior_json(const guide::Case& one, const plan::Picture& picture) {
  return {{"suspects", suspects_json(one.suspects(picture))},
          {"unlisted", picture.unlisted},
          {"something_wrong", picture.something_wrong},
          {"left_out", picture.left_out},
          {"digits_lost", picture.digits_lost},
          {"log_evidence", picture.log_evidence}};
}

}  // namespace

Json survey_json(const moves::Setting& setting, const guide::Survey& survey) {
  const chain::Chain& chain = setting.chain();
  Json routes = Json::array();
  for (const guide::RouteSurvey& route : survey.routes) {
    Json path = Json::array();
    for (const ElementId element : moves::elements_of(chain, route.path)) {
      path.push_back(chain.elements[element].name);
    }
    const moves::Standing start = moves::stand_at_start(setting, route.route);
    Json moves_here = Json::array();
    for (const moves::Move& move : route.moves)
      moves_here.push_back(move_json(setting, start, move));
    Json alike = Json::array();
    for (const guide::Lookalikes& group : route.lookalikes) {
      Json names = Json::array();
      for (const FaultId fault : group.faults) names.push_back(setting.name_of(fault));
      alike.push_back(names);
    }
    routes.push_back({{"route", chain.routes[route.route].name},
                      {"path", path},
                      {"faults_per_year", route.faults_per_year},
                      {"moves", moves_here},
                      {"cannot_be_told_apart", alike}});
  }
  Json spares = Json::array();
  for (const chain::Part& part : chain.parts) {
    if (!part.spare) continue;
    spares.push_back({{"spare", part.name},
                      {"kind", setting.rules().part_kinds[part.kind].name},
                      {"state", part.spare_state},
                      {"place", chain.places[part.place].name}});
  }
  return {{"installation", setting.installation().name},
          {"trade", setting.rules().trade},
          {"routes", routes},
          {"spares", spares}};
}

Json rank_json(const guide::Case& one, const guide::Advice& advice, const plan::Picture& picture) {
  Json json = {{"installation", one.setting().installation().name},
               {"complaint", complaint_json(one)}};
  json.update(posterior_json(one, picture));
  json["close_minutes"] = advice.plan.close_minutes;
  json["service_minutes"] = advice.plan.service_minutes;
  if (advice.plan.ahead) json["searched_ahead"] = ahead_json(*advice.plan.ahead);
  Json candidates = Json::array();
  for (const plan::Candidate& candidate : advice.plan.candidates) {
    candidates.push_back(candidate_json(one, candidate));
  }
  json["moves"] = candidates;
  return json;
}

Json case_json(const guide::Case& one, const guide::Advice& advice, const plan::Picture& picture,
               const std::optional<guide::Ending>& ending) {
  Json json = {{"installation", one.setting().installation().name},
               {"complaint", complaint_json(one)}};
  Json steps = Json::array();
  for (const guide::Step& step : one.steps()) {
    Json item = move_json(one.setting(), step.before, step.move);
    item["report"] = report_json(step.report);
    steps.push_back(item);
  }
  json["steps"] = steps;
  json["minutes"] = one.minutes_spent();
  json["posterior"] = posterior_json(one, picture);
  if (ending) json["ending"] = ending_json(*ending);
  if (!ending && advice.move) json["next"] = move_json(one.setting(), one.standing(), *advice.move);
  return json;
}

std::string to_text(const Json& json) {
  return json.dump(2) + "\n";
}

}  // namespace whichlink::render
