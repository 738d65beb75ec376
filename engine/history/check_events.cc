#include "history/check_events.h"

#include <array>
#include <utility>

#include "history/closing.h"

namespace whichlink::history {
namespace {

constexpr const char* kSaid = "said";
constexpr const char* kLevel = "level";
constexpr const char* kIsolated = "isolated";

const std::array<std::pair<routine::When, std::string>, 3> kWhens = {
    {{routine::When::untouched, "untouched"},
     {routine::When::stressed, "stressed"},
     {routine::When::not_sure, "not sure"}}};

const std::array<guide::Stage, 4> kStages = {guide::Stage::under_way, guide::Stage::mended,
                                             guide::Stage::nothing_found,
                                             guide::Stage::handed_over};

std::string name_of(routine::When when) {
  for (const auto& [one, name] : kWhens) {
    if (one == when) return name;
  }
  return "";
}

std::string name_of(routine::Verdict verdict) {
  switch (verdict) {
    case routine::Verdict::passed:
      return "passed";
    case routine::Verdict::failed:
      return "failed";
    case routine::Verdict::mended:
      return "mended";
    case routine::Verdict::not_checked:
      break;
  }
  return "not checked";
}

Problems unknown(const Place& place, const std::string& what) {
  return {
      {place, "holds " + what + ", which no check writes", "a record as whichlink wrote it", ""}};
}

}  // namespace

record::CheckAnswer answer_of(const routine::Event& event) {
  if (const auto* said = std::get_if<routine::Said>(&event)) {
    return {kSaid,
            said->step,
            said->report.heard,
            said->when ? name_of(*said->when) : "",
            said->report.drop_db,
            std::nullopt,
            ""};
  }
  if (const auto* read = std::get_if<routine::Read>(&event)) {
    return {kLevel, read->route, read->set, "", read->hz, read->measured_db, ""};
  }
  const auto& isolated = std::get<routine::Isolated>(event);
  return {kIsolated, isolated.route, guide::name_of(isolated.stage), "", {}, {}, ""};
}

Result<routine::Event> event_of(const record::CheckAnswer& answer, const Place& place) {
  if (answer.kind == kSaid) {
    routine::Said said{answer.step, {answer.answer, answer.first}, std::nullopt, place};
    for (const auto& [when, name] : kWhens) {
      if (name == answer.extra) said.when = when;
    }
    if (!answer.extra.empty() && !said.when) {
      return tl::unexpected(unknown(place, "\"" + answer.extra + "\""));
    }
    return said;
  }
  if (answer.kind == kLevel && answer.first && answer.second) {
    return routine::Read{answer.step, answer.answer, *answer.first, *answer.second, place};
  }
  for (const guide::Stage stage : kStages) {
    if (answer.kind == kIsolated && guide::name_of(stage) == answer.answer) {
      return routine::Isolated{answer.step, stage, place};
    }
  }
  return tl::unexpected(unknown(place, "an answer of kind \"" + answer.kind + "\""));
}

Result<routine::CheckFile> check_file_of(const record::CheckStory& story, const Place& place) {
  routine::CheckFile events;
  events.model = story.head.model;
  events.list = story.head.list;
  events.listener = story.head.listener;
  events.trip_db = story.head.trip_db;
  events.at = story.head.opened;
  events.list_place = events.listener_place = events.trip_place = place;
  for (const record::CheckAnswer& answer : story.answers) {
    auto event = event_of(answer, place);
    if (!event) return tl::unexpected(event.error());
    events.done.push_back(std::move(*event));
  }
  return events;
}

std::vector<record::RouteResult> results_of(const routine::Outcome& outcome) {
  std::vector<record::RouteResult> results;
  for (const routine::RouteOutcome& one : outcome.routes) {
    const bool wrong =
        one.verdict == routine::Verdict::failed || one.verdict == routine::Verdict::mended;
    const bool stressed = wrong ? one.when == routine::When::stressed : one.stressed;
    results.push_back({one.route, name_of(one.verdict), wrong ? one.report.heard : "", stressed});
  }
  return results;
}

}  // namespace whichlink::history
