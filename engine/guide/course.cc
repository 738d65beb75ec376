#include "guide/course.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <utility>

namespace whichlink::guide {
namespace {

bool is_change(const Step& step) {
  return step.made && changes_something(step.move.action);
}

}  // namespace

std::string name_of(Stage stage) {
  switch (stage) {
    case Stage::under_way:
      return "under way";
    case Stage::mended:
      return "mended";
    case Stage::nothing_found:
      return "nothing found";
    case Stage::handed_over:
      return "handed over";
  }
  return "";
}

bool changes_something(const moves::Action& action) {
  return !std::holds_alternative<moves::Listen>(action) &&
         !std::holds_alternative<moves::TryRoute>(action) &&
         !std::holds_alternative<moves::ApplyStress>(action) &&
         !std::holds_alternative<moves::StressRoute>(action) &&
         !std::holds_alternative<moves::Measure>(action);
}

Track::Track(const moves::Setting& setting, RouteId route)
    : setting_(&setting), standing_(moves::stand_at_start(setting, route)) {}

void Track::take(const moves::Move& move, const Report& report) {
  steps_.push_back({move, standing_, report, true});
  standing_ = moves::after(*setting_, standing_, move);
}

void Track::pass_over(const moves::Move& move, const Report& report) {
  steps_.push_back({move, standing_, report, false});
}

bool Track::heard_nothing_wrong(const Step& step) const {
  return step.report.heard == setting_->rules().senses[step.move.sense].symptoms.front().name;
}

bool Track::heard_wrong() const {
  const auto last = std::find_if(steps_.rbegin(), steps_.rend(), [&](const Step& step) {
    return step.made && step.report.heard != kNotSure && step.move.heard_on == route() &&
           !std::holds_alternative<moves::Measure>(step.move.action);
  });
  const bool only_the_complaint = last == steps_.rend();
  return only_the_complaint || !heard_nothing_wrong(*last);
}

std::vector<std::string> Track::cannot() const {
  std::vector<std::string> names;
  for (const Step& step : steps_) {
    if (!step.made) names.push_back(step.move.name);
  }
  return names;
}

// Moves that cannot be made, and those that brought the same again and again since the last change.
std::vector<std::string> Track::worn_out() const {
  std::vector<std::string> names = cannot();
  std::map<std::pair<std::string, std::string>, std::size_t> counts;
  const auto last_change = std::find_if(steps_.rbegin(), steps_.rend(), is_change);
  const auto since = last_change == steps_.rend() ? steps_.begin() : std::prev(last_change.base());
  std::for_each(since, steps_.end(), [&](const Step& step) {
    if (!step.made) return;
    if (++counts[{step.move.name, step.report.heard}] == kMostRepeats) {
      names.push_back(step.move.name);
    }
  });
  return names;
}

bool Track::verified() const {
  const std::optional<moves::Move> wanted = verification();
  if (!wanted) return true;
  const auto last = std::find_if(steps_.rbegin(), steps_.rend(), [&](const Step& step) {
    return (step.made && step.move.name == wanted->name) || is_change(step);
  });
  return last != steps_.rend() && last->move.name == wanted->name && heard_nothing_wrong(*last);
}

// The whole route under its stresses; where nothing on it may be stressed, another listen.
std::optional<moves::Move> Track::verification() const {
  const std::vector<std::string> names = cannot();
  std::optional<moves::Move> listen;
  std::optional<moves::Move> stress;
  for (moves::Move& one : moves::derive_moves(*setting_, standing_)) {
    if (std::find(names.begin(), names.end(), one.name) != names.end()) continue;
    if (std::holds_alternative<moves::StressRoute>(one.action)) return std::move(one);
    if (std::holds_alternative<moves::Listen>(one.action)) listen = one;
    if (std::holds_alternative<moves::ApplyStress>(one.action) && !stress) stress = one;
  }
  return stress ? stress : listen;
}

bool Track::anything_changed() const {
  return std::any_of(steps_.begin(), steps_.end(), is_change);
}

double Track::minutes_spent() const {
  double minutes = 0;
  for (const Step& step : steps_) {
    if (step.made) minutes += step.move.minutes;
  }
  return minutes;
}

Course::Course(const moves::Setting& setting, RouteId route, std::size_t listener,
               const moves::ReportWeights& complaint)
    : track_(setting, route), belief_(setting, route, listener, complaint) {}

void Course::take(const moves::Move& move, const Report& report,
                  const moves::ReportWeights& weights, plan::KnownWays* known) {
  if (known != nullptr) {
    belief_.take_in(standing(), move, weights,
                    [&](const chain::Patching& real) -> const belief::Question& {
                      return known->question(standing(), move, real);
                    });
  } else {
    belief_.take_in(standing(), move, weights);
  }
  track_.take(move, report);
}

Advice Course::advise(plan::Aim aim, const plan::Depth& depth) const {
  return by(plan::plan_next(setting(), belief_, standing(), track_.worn_out(), track_.heard_wrong(),
                            aim, depth));
}

Advice Course::advise_first(plan::Aim aim, const plan::Depth& depth, plan::KnownWays& known) const {
  return by(plan::plan_first(setting(), belief_, standing(), track_.worn_out(),
                             track_.heard_wrong(), aim, depth, known));
}

Advice Course::by(plan::Plan found) const {
  Advice advice;
  advice.plan = std::move(found);
  const plan::Plan& plan = advice.plan;
  advice.reason = "plan";
  if (steps().size() >= kMostMoves) {
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
  if (standing().temporary) {
    const std::vector<std::string> worn_out = track_.worn_out();
    for (moves::Move& one : moves::derive_moves(setting(), standing())) {
      if (!std::holds_alternative<moves::PutBack>(one.action)) continue;
      if (std::find(worn_out.begin(), worn_out.end(), one.name) != worn_out.end()) continue;
      advice.move = std::move(one);
      advice.reason = "put back";
      return advice;
    }
  }
  if (!track_.verified()) {
    advice.move = track_.verification();
    advice.reason = "verify";
    if (advice.move) return advice;
  }
  advice.stage = track_.anything_changed() ? Stage::mended : Stage::nothing_found;
  return advice;
}

}  // namespace whichlink::guide
