#include "render/check_words.h"

#include <algorithm>

namespace whichlink::render {

using routine::Verdict;

std::string when_words(const std::optional<routine::When>& when) {
  if (!when) return "";
  switch (*when) {
    case routine::When::untouched:
      return "untouched";
    case routine::When::stressed:
      return "only under stress";
    case routine::When::not_sure:
      return "";
  }
  return "";
}

std::string stage_words(guide::Stage stage) {
  switch (stage) {
    case guide::Stage::under_way:
      return "left for later";
    case guide::Stage::mended:
      return "mended";
    case guide::Stage::nothing_found:
      return "nothing found";
    case guide::Stage::handed_over:
      return "handed over to service";
  }
  return "";
}

std::string verdict_words(Verdict verdict) {
  switch (verdict) {
    case Verdict::passed:
      return "passed";
    case Verdict::failed:
      return "FAILED";
    case Verdict::mended:
      return "mended";
    case Verdict::not_checked:
      return "not checked";
  }
  return "";
}

std::vector<std::string> all_cautions(const routine::Round& round) {
  const faults::Rules& rules = round.setting().rules();
  std::vector<std::string> words;
  for (const std::size_t caution : rules.always) words.push_back(rules.cautions[caution].words);
  for (const std::size_t caution : round.plan().cautions) {
    const std::string& one = rules.cautions[caution].words;
    if (std::find(words.begin(), words.end(), one) == words.end()) words.push_back(one);
  }
  return words;
}

std::string step_title(const moves::Setting& setting, const routine::Step& step) {
  if (step.kind != routine::Kind::look) return step.name;
  return setting.rules().routine->items[*step.item].name;
}

std::string step_question(const moves::Setting& setting, const routine::Step& step,
                          bool with_worst) {
  const faults::Rules& rules = setting.rules();
  if (step.kind == routine::Kind::look) return rules.routine->items[*step.item].asks;
  if (step.kind == routine::Kind::sweep) return "Was every one heard?";
  if (step.kind == routine::Kind::thresholds) return "What has changed?";
  const std::string worst =
      step.stresses.empty() || !with_worst ? "" : " Answer with the worst, stressed or not.";
  if (step.is_pair()) return "How is it?" + worst;
  const SignalId signal = setting.chain().routes[step.routes.front()].signal;
  return rules.senses[rules.signals[signal].sense].asks + worst;
}

std::vector<std::string> step_cautions(const moves::Setting& setting, const routine::Step& step) {
  const faults::Rules& rules = setting.rules();
  std::vector<std::size_t> cautions;
  if (step.item) cautions = rules.routine->items[*step.item].cautions;
  if (!step.routes.empty()) {
    cautions = rules.signals[setting.chain().routes[step.routes.front()].signal].cautions;
  }
  std::vector<std::string> words;
  words.reserve(cautions.size());
  for (const std::size_t one : cautions) words.push_back(rules.cautions[one].words);
  return words;
}

std::vector<StressedPlace> stressed_places(const moves::Setting& setting,
                                           const routine::Step& step) {
  const chain::Chain& chain = setting.chain();
  std::vector<PlaceId> places;
  for (const auto& [element, stress] : step.stresses) {
    const PlaceId place = chain.elements[element].place;
    if (std::find(places.begin(), places.end(), place) == places.end()) places.push_back(place);
  }
  std::vector<StressedPlace> all;
  for (const PlaceId place : places) {
    all.push_back({place, {}});
    for (const auto& stressed : step.stresses) {
      if (chain.elements[stressed.first].place == place) all.back().stresses.push_back(stressed);
    }
  }
  return all;
}

}  // namespace whichlink::render
