#include <algorithm>
#include <map>

#include "guide/case.h"

namespace whichlink::guide {
namespace {

bool changes_something(const moves::Action& action) {
  return !std::holds_alternative<moves::Listen>(action) &&
         !std::holds_alternative<moves::TryRoute>(action) &&
         !std::holds_alternative<moves::ApplyStress>(action) &&
         !std::holds_alternative<moves::StressRoute>(action) &&
         !std::holds_alternative<moves::Measure>(action);
}

}  // namespace

bool Case::heard_wrong() const {
  for (auto step = steps_.rbegin(); step != steps_.rend(); ++step) {
    if (!step->made || step->report.heard == kNotSure) continue;
    if (step->move.heard_on != route_ ||
        std::holds_alternative<moves::Measure>(step->move.action)) {
      continue;
    }
    return step->report.heard != setting_.rules().senses[step->move.sense].symptoms.front().name;
  }
  return true;  // the complaint itself
}

// Moves that cannot be made, and those that brought the same again and again since the last change.
std::vector<std::string> Case::worn_out() const {
  std::vector<std::string> names = cannot();
  std::map<std::pair<std::string, std::string>, std::size_t> counts;
  for (auto step = steps_.rbegin(); step != steps_.rend(); ++step) {
    if (!step->made) continue;
    if (++counts[{step->move.name, step->report.heard}] == kMostRepeats) {
      names.push_back(step->move.name);
    }
    if (changes_something(step->move.action)) break;
  }
  return names;
}

// Verified: since the last thing that was changed, the whole route stood its stress (or, where
// nothing on it may be stressed, another listen) with nothing wrong to hear.
bool Case::verified() const {
  const std::optional<moves::Move> wanted = verification();
  if (!wanted) return true;
  for (auto step = steps_.rbegin(); step != steps_.rend(); ++step) {
    if (!step->made) continue;
    const faults::Sense& sense = setting_.rules().senses[step->move.sense];
    const bool sound = step->report.heard == sense.symptoms.front().name;
    if (step->move.name == wanted->name) return sound;
    if (changes_something(step->move.action)) return false;
  }
  return false;
}

// The move that a route must stand before the case is closed.
std::optional<moves::Move> Case::verification() const {
  const std::vector<std::string> names = cannot();
  std::optional<moves::Move> listen;
  std::optional<moves::Move> stress;
  for (moves::Move& one : moves::derive_moves(setting_, standing_)) {
    if (std::find(names.begin(), names.end(), one.name) != names.end()) continue;
    if (std::holds_alternative<moves::StressRoute>(one.action)) return std::move(one);
    if (std::holds_alternative<moves::Listen>(one.action)) listen = one;
    if (std::holds_alternative<moves::ApplyStress>(one.action) && !stress) stress = one;
  }
  return stress ? stress : listen;
}

Advice Case::advise() const {
  Advice advice;
  advice.plan = plan::plan_next(setting_, *belief_, standing_, worn_out(), heard_wrong());
  const plan::Plan& plan = advice.plan;
  advice.reason = "plan";
  if (steps_.size() >= kMostMoves) {
    advice.stage = Stage::handed_over;
    return advice;
  }
  switch (plan.verdict) {
    case plan::Verdict::move:
      advice.move = plan.candidates.front().move;
      return advice;
    case plan::Verdict::service:
      advice.stage = Stage::handed_over;
      return advice;
    case plan::Verdict::close:
      break;
  }
  if (standing_.temporary) {
    for (const plan::Candidate& one : plan.candidates) {
      if (!std::holds_alternative<moves::PutBack>(one.move.action)) continue;
      advice.move = one.move;
      advice.reason = "put back";
      return advice;
    }
  }
  if (!verified()) {
    advice.move = verification();
    advice.reason = "verify";
    if (advice.move) return advice;
  }
  const bool changed = std::any_of(steps_.begin(), steps_.end(), [](const Step& step) {
    return step.made && changes_something(step.move.action);
  });
  advice.stage = changed ? Stage::mended : Stage::nothing_found;
  return advice;
}

}  // namespace whichlink::guide
