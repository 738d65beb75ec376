#include "guide/case.h"

#include <algorithm>

#include "moves/standing.h"

namespace whichlink::guide {
namespace {

std::vector<std::string> known_reports(const faults::Sense& sense) {
  std::vector<std::string> names;
  for (const faults::Symptom& symptom : sense.symptoms) names.push_back(symptom.name);
  if (sense.elsewhere) names.push_back(sense.elsewhere->name);
  return names;
}

std::vector<std::string> route_names(const chain::Chain& chain) {
  std::vector<std::string> names;
  for (const chain::Route& route : chain.routes) names.push_back(route.name);
  return names;
}

Problem unknown(const Place& place, const std::string& kind, const std::string& given,
                const std::vector<std::string>& known) {
  return {place, "unknown " + kind + " \"" + given + "\"", one_of(known), nearest(given, known)};
}

}  // namespace

Result<moves::ReportWeights> weights_of(const faults::Sense& sense, const Report& report,
                                        const Place& place) {
  if (report.heard == kNotSure) return moves::weights_of_nothing(sense);
  if (report.drop_db) {
    const bool has_levels =
        std::any_of(sense.symptoms.begin(), sense.symptoms.end(),
                    [](const faults::Symptom& one) { return one.drop_db.has_value(); });
    if (!has_levels) {
      return tl::unexpected(
          Problems{{place, "a drop in dB means nothing here", one_of(known_reports(sense)), ""}});
    }
    if (!(*report.drop_db > 0 && *report.drop_db <= kMostDropDb)) {
      return tl::unexpected(
          Problems{{place, "that is no drop in dB", "above 0, at most 120 dB", ""}});
    }
    return moves::weights_of_drop(sense, *report.drop_db);
  }
  const std::optional<std::size_t> found = sense.find(report.heard);
  if (!found) {
    return tl::unexpected(Problems{unknown(place, "report", report.heard, known_reports(sense))});
  }
  return moves::weights_of_outcome(sense, *found);
}

Case::Case(const moves::Installation& installation, CaseFile events)
    : setting_(installation, events.days_since_pass.value_or(
                                 installation.rules.handling.default_days_since_pass)),
      events_(std::move(events)) {}

Result<std::unique_ptr<Case>> Case::open(const moves::Installation& installation, CaseFile events) {
  std::vector<Done> to_do;
  to_do.swap(events.done);
  std::unique_ptr<Case> one(new Case(installation, std::move(events)));
  if (const auto problem = one->begin()) return tl::unexpected(Problems{*problem});
  for (const Done& done : to_do) {
    if (const auto problem = one->answer(done)) return tl::unexpected(Problems{*problem});
  }
  return one;
}

std::optional<Problem> Case::begin() {
  const chain::Chain& chain = setting_.chain();
  const std::vector<std::string> names = route_names(chain);
  const auto found = std::find(names.begin(), names.end(), events_.route);
  if (found == names.end()) return unknown(events_.route_place, "route", events_.route, names);
  const RouteId route{static_cast<std::uint32_t>(found - names.begin())};
  const faults::Signal& signal = setting_.rules().signals[chain.routes[route].signal];
  const faults::Sense& sense = setting_.rules().senses[signal.sense];
  std::size_t listener = 0;
  if (!events_.listener.empty()) {
    std::vector<std::string> listeners;
    for (const faults::Listener& one : sense.listeners) listeners.push_back(one.name);
    const auto who = std::find(listeners.begin(), listeners.end(), events_.listener);
    if (who == listeners.end()) {
      return unknown(events_.listener_place, "listener", events_.listener, listeners);
    }
    listener = static_cast<std::size_t>(who - listeners.begin());
  }
  aim_ = events_.aim.value_or(plan::Aim::time);
  const auto weights = weights_of(sense, events_.complaint, events_.complaint_place);
  if (!weights) return weights.error().front();
  course_ = std::make_unique<Course>(setting_, route, listener, *weights);
  if (!course_->possible()) {
    return Problem{events_.complaint_place,
                   "\"" + events_.complaint.heard + "\" cannot be heard on " + events_.route +
                       " as the installation and its rules describe it",
                   "another report, or a rule that explains this one", ""};
  }
  return std::nullopt;
}

std::optional<Problem> Case::answer(const Done& done) {
  const std::optional<moves::Move> move = moves::find_move(setting_, standing(), done.move);
  if (!move) {
    std::vector<std::string> names;
    for (const moves::Move& one : moves::derive_moves(setting_, standing())) {
      names.push_back(one.name);
    }
    return Problem{done.place, "\"" + done.move + "\" is no move that is possible here",
                   one_of(names), nearest(done.move, names)};
  }
  if (done.report.heard == kCannotDo && !done.report.drop_db) {
    course_->pass_over(*move, done.report);
    events_.done.push_back(done);
    return std::nullopt;
  }
  const faults::Sense& sense = setting_.rules().senses[move->sense];
  const auto weights = weights_of(sense, done.report, done.place);
  if (!weights) return weights.error().front();
  auto next = std::make_unique<Course>(*course_);
  next->take(*move, done.report, *weights);
  if (!next->possible()) {
    return Problem{done.place,
                   "\"" + done.report.heard + "\" cannot follow from what was heard before",
                   "another report, or \"not sure\"", ""};
  }
  course_ = std::move(next);
  events_.done.push_back(done);
  return std::nullopt;
}

bool Case::take_back() {
  if (events_.done.empty()) return false;
  std::vector<Done> kept = events_.done;
  kept.pop_back();
  events_.done.clear();
  const bool opened = !begin().has_value();
  for (const Done& done : kept) {
    if (answer(done)) return false;
  }
  return opened;
}

std::vector<Suspect> Case::suspects(const plan::Picture& picture) const {
  std::vector<bool> shown = plan::faults_that_matter(setting_, standing());
  moves::Standing at_first = moves::stand_at_start(setting_, course_->route());
  const std::vector<bool> first = plan::faults_that_matter(setting_, at_first);
  std::vector<Suspect> all;
  for (const FaultId fault : setting_.faults().ids()) {
    if (!shown[fault.value] && !first[fault.value]) continue;
    all.push_back({fault, setting_.name_of(fault), setting_.words_of(fault),
                   setting_.family_of(fault),
                   std::max(0.0, 1 - picture.marginal[fault.value][belief::kAbsent])});
  }
  if (belief().hypotheses().size() > 1) {
    all.push_back({std::nullopt, "crossed plugs", setting_.rules().crossing->words, "crossing",
                   picture.crossed});
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Suspect& a, const Suspect& b) { return a.chance > b.chance; });
  return all;
}

}  // namespace whichlink::guide
