// What the engine says of whole cases that are told on standard input, for pocket.test.mjs. A line
// in is one case as JSON: the files of the installation and its rules, the complaint, and what was
// done after it: answers, and answers taken back. A line out is the list of what was said: after
// the complaint, and after each act either a problem, or the case as it stands then.

#include <iostream>
#include <nlohmann/json.hpp>
#include <string>

#include "load/load.h"
#include "moves/move.h"
#include "render/json.h"

namespace {

using namespace whichlink;
using render::Json;

guide::Report report_in(const Json& json) {
  guide::Report report{json.at("heard").get<std::string>(), std::nullopt};
  if (json.contains("drop db")) report.drop_db = json["drop db"].get<double>();
  return report;
}

Json as_it_stands(const guide::Case& one) {
  const guide::Advice advice = one.advise();
  std::optional<guide::Ending> ending;
  if (advice.stage != guide::Stage::under_way) ending = one.ending(advice.stage);
  Json json = render::case_json(one, advice, one.picture(), ending);
  json["put_back"] = moves::put_back_list(one.setting(), one.standing());
  Json others = Json::array();
  for (const plan::Candidate& candidate : advice.plan.candidates) {
    others.push_back(candidate.move.name);
  }
  json["others"] = others;
  json["text"] = load::to_text(one.events());
  return json;
}

Json problem_json(const Problem& problem) {
  return {{"problem", problem.what}};
}

Json played(const Json& told) {
  const auto installation =
      load::installation_file(told.at("installation"), told.at("rules folder"));
  if (!installation) return problem_json(installation.error().front());
  const Json& complaint = told.at("complaint");
  guide::CaseFile events;
  events.route = complaint.at("route");
  events.complaint = report_in(complaint);
  if (complaint.contains("days since pass")) events.days_since_pass = complaint["days since pass"];
  if (told.contains("listener")) events.listener = told["listener"];
  auto opened = guide::Case::open(*installation, std::move(events));
  if (!opened) return Json::array({problem_json(opened.error().front())});
  guide::Case& one = **opened;
  Json said = Json::array({as_it_stands(one)});
  for (const Json& act : told.at("acts")) {
    if (act.contains("back")) {
      if (!one.take_back()) return problem_json({{}, "nothing to take back", "", ""});
    } else if (const auto problem = one.answer({act.at("move"), report_in(act), {}})) {
      said.push_back(problem_json(*problem));
      continue;
    }
    said.push_back(as_it_stands(one));
  }
  return said;
}

}  // namespace

int main() {
  for (std::string line; std::getline(std::cin, line);) {
    std::cout << played(Json::parse(line)).dump() << std::endl;
  }
}
