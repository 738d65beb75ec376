#include "drill/drill.h"

#include <algorithm>
#include <cmath>

#include "moves/standing.h"
#include "trial/draw.h"

namespace whichlink::drill {
namespace {

// Below these an answer tells nothing, as the sum over the route's faults of how far its chances
// are expected to move, and a move mends nothing (judged).
constexpr double kToldNothing = .005;
constexpr double kNoCure = .002;

}  // namespace

std::uint64_t seed_of_answer(std::uint64_t seed, std::size_t number) {
  constexpr std::uint64_t kApart = 1'000'003;  // seeds of one case never meet those of the next
  return seed * kApart + number;
}

Result<std::unique_ptr<Drill>> Drill::open(const moves::Installation& installation, DrillCase given,
                                           const plan::Depth& depth) {
  std::unique_ptr<Drill> drill(new Drill(std::move(given), depth));
  if (const auto problem = drill->begin(installation)) return tl::unexpected(Problems{*problem});
  return drill;
}

std::optional<Problem> Drill::begin(const moves::Installation& installation) {
  const moves::Setting setting(
      installation,
      given_.days_since_pass.value_or(installation.rules.handling.default_days_since_pass));
  guide::CaseFile file;
  file.model = given_.model;
  file.route = given_.route;
  file.listener = given_.listener;
  file.days_since_pass = given_.days_since_pass;
  file.route_place = given_.route_place;
  file.complaint_place = given_.heard_place;
  file.listener_place = given_.listener_place;
  file.complaint = {given_.heard, std::nullopt};
  // A route or a listener that means nothing is complained of by the case itself.
  std::optional<trial::Drawn> drawn;
  for (const RouteId route : setting.chain().routes.ids()) {
    const chain::Route& one = setting.chain().routes[route];
    if (one.name != given_.route) continue;
    const faults::Sense& sense = setting.rules().senses[setting.rules().signals[one.signal].sense];
    for (std::size_t index = 0; index < sense.listeners.size(); ++index) {
      if (sense.listeners[index].name == given_.listener) listener_ = index;
    }
    if (!given_.drawn) continue;
    const trial::CaseDrawer drawer(setting, {route, sense.find(given_.heard), listener_});
    if (auto found = drawer.draw(given_.seed)) drawn.emplace(std::move(*found));
    if (!drawn) {
      return Problem{given_.place, "this complaint hardly ever comes", "another complaint", ""};
    }
    file.complaint.heard = sense.outcome_name(drawn->heard);
  }
  auto opened = guide::Case::open(installation, std::move(file));
  if (!opened) return opened.error().front();
  case_ = std::move(*opened);
  track_ = std::make_unique<guide::Track>(case_->setting(), case_->standing().route);
  given_.heard = case_->events().complaint.heard;
  if (drawn) {
    truth_ = drawn->room.truth();
    at_start_ = drawn->truth;
  } else {
    truth_ = simulate::nothing_wrong(case_->setting());
    if (auto problem = hide()) return problem;
    if (auto problem = cross()) return problem;
    if (auto problem = explains_complaint()) return problem;
    at_start_ = truth_;
  }
  plan();
  ideal_ = values_->of_advised();
  return std::nullopt;
}

void Drill::plan() {
  values_ = std::make_unique<Values>(*case_, *track_, depth_);
}

std::vector<moves::Move> Drill::possible() const {
  return moves::derive_moves(case_->setting(), case_->standing());
}

std::optional<Problem> Drill::take(const Event& event) {
  if (stage_ == Stage::ended ||
      (stage_ == Stage::ending && event.say != Say::checks && event.say != Say::suspect)) {
    return Problem{event.place, "the case has ended", "what must be checked, or nothing more", ""};
  }
  std::optional<Problem> problem;
  switch (event.say) {
    case Say::move:
      problem = make(event);
      break;
    case Say::suspect:
      problem = claim(event);
      break;
    case Say::hint:
      if (hint_ != Hint::move) hint_ = static_cast<Hint>(static_cast<int>(hint_) + 1);
      break;
    case Say::close:
      end(plan::Verdict::close);
      break;
    case Say::service:
      end(plan::Verdict::service);
      break;
    case Say::checks:
      problem = check(event);
      break;
  }
  if (!problem) events_.push_back(event);
  return problem;
}

std::string Drill::words_of(const Choice& choice) const {
  switch (choice.verdict) {
    case plan::Verdict::close:
      return "close the case";
    case plan::Verdict::service:
      return "call service";
    case plan::Verdict::move:
      break;
  }
  return moves::short_words(case_->setting(), *choice.move);
}

// Whatever is reported, the route's faults are believed as before; and the move mends and puts back
// nothing. (Its bits would count what it tells of other routes.)
bool Drill::tells_nothing(const moves::Move& move) const {
  const plan::Candidate* candidate = values_->candidate(move.name);
  if (candidate == nullptr || std::holds_alternative<moves::PutBack>(move.action) ||
      std::holds_alternative<moves::TakeOut>(move.action)) {
    return false;
  }
  const moves::Standing next = moves::after(case_->setting(), case_->standing(), move);
  const std::vector<bool> matters = plan::faults_that_matter(case_->setting(), next);
  double left = 0;
  double crossed = 0;
  for (const plan::PredictedOutcome& outcome : candidate->prediction) {
    left += outcome.chance * outcome.something_wrong;
    crossed += outcome.chance * outcome.crossed;
  }
  double told = 0;
  for (const plan::PredictedOutcome& outcome : candidate->prediction) {
    told += outcome.chance * std::abs(outcome.crossed - crossed);
  }
  for (std::size_t fault = 0; fault < matters.size(); ++fault) {
    if (!matters[fault]) continue;
    double mean = 0;
    for (const plan::PredictedOutcome& outcome : candidate->prediction) {
      mean += outcome.chance * outcome.present[fault];
    }
    for (const plan::PredictedOutcome& outcome : candidate->prediction) {
      told += outcome.chance * std::abs(outcome.present[fault] - mean);
    }
  }
  return told < kToldNothing && values_->something_wrong() - left < kNoCure;
}

Turn Drill::turn_of(const Choice& chosen) const {
  const Choice& advised = values_->advised();
  Turn turn;
  turn.chosen = chosen;
  turn.words = words_of(chosen);
  turn.advised_words = words_of(advised);
  turn.advised = same(chosen, advised);
  turn.value = values_->of(chosen);
  turn.least = values_->least();
  turn.lost = values_->lost_by(chosen);
  if (turn.lost > 0)
    turn.habit = charged_to(case_->setting(), *track_, given_.heard, chosen, advised);
  turn.hint = hint_;
  turn.wrong_before = values_->something_wrong();
  turn.wrong_after = turn.wrong_before;
  if (chosen.move) {
    turn.minutes = chosen.move->minutes;
    turn.told_nothing = !turn.advised && tells_nothing(*chosen.move);
    turn.instruction = moves::instruction(case_->setting(), case_->standing(), *chosen.move);
  }
  return turn;
}

std::optional<Problem> Drill::make(const Event& event) {
  const moves::Setting& setting = case_->setting();
  const std::optional<moves::Move> move = moves::find_move(setting, case_->standing(), event.name);
  if (!move) {
    std::vector<std::string> names;
    for (const moves::Move& one : possible()) names.push_back(one.name);
    return Problem{event.place, "\"" + event.name + "\" is no move that is possible here",
                   one_of(names), nearest(event.name, names)};
  }
  if (case_->steps().size() >= guide::kMostMoves) {
    return Problem{event.place,
                   std::to_string(guide::kMostMoves) + " moves were made, and that is enough",
                   "close or call", ""};
  }
  Turn turn = turn_of({plan::Verdict::move, move});
  const std::vector<Group> groups = groups_of(*case_);
  const std::vector<double> before = suspicion(*case_, groups);
  simulate::Room room(setting, truth_, listener_,
                      seed_of_answer(given_.seed, case_->steps().size()));
  turn.outcome = room.respond(case_->standing(), *move);
  turn.report.heard = setting.rules().senses[move->sense].outcome_name(turn.outcome);
  turn.heard_wrong = turn.outcome != 0;
  // Where more is hidden than the working belief holds, an answer may be beyond it: then it tells
  // the observer nothing.
  if (case_->answer({move->name, turn.report, event.place})) {
    auto problem = case_->answer({move->name, {guide::kNotSure, std::nullopt}, event.place});
    if (problem) return problem;
  }
  truth_ = room.truth();
  track_->take(*move, case_->steps().back().report);
  turn.shifts = shifts_of(*move, groups, before);
  turn.wrong_after = case_->belief().something_wrong(case_->standing());
  turns_.push_back(std::move(turn));
  hint_ = Hint::none;
  plan();
  return std::nullopt;
}

std::vector<Shift> Drill::shifts_of(const moves::Move& move, const std::vector<Group>& groups,
                                    const std::vector<double>& before) const {
  const moves::Setting& setting = case_->setting();
  const chain::Path path = setting.tracer().trace(move.heard_on, case_->standing().patching).path;
  const std::vector<ElementId> along = moves::elements_of(setting.chain(), path);
  const std::vector<double> after = suspicion(*case_, groups);
  std::vector<Shift> shifts;
  for (std::size_t index = 0; index < groups.size(); ++index) {
    const Group& group = groups[index];
    Shift shift{group.words, before[index], after[index], false, true};
    if (!group.elements.empty()) {
      shift.in_the_way = std::any_of(group.elements.begin(), group.elements.end(), [&](auto one) {
        return std::find(along.begin(), along.end(), one) != along.end();
      });
    }
    if (const auto* stress = std::get_if<moves::ApplyStress>(&move.action)) {
      shift.touched = std::find(group.elements.begin(), group.elements.end(), stress->element) !=
                      group.elements.end();
    }
    shifts.push_back(std::move(shift));
  }
  return shifts;
}

void Drill::end(plan::Verdict verdict) {
  turns_.push_back(turn_of({verdict, std::nullopt}));
  stage_ = Stage::ending;
}

std::optional<Problem> Drill::claim(const Event& event) {
  const auto what = suspected(*case_, event.name, event.place);
  if (!what) return what.error().front();
  Claim claim = weighed(*case_, *what, event.sure);
  for (std::size_t fault = 0; fault < what->mask.size(); ++fault) {
    if (what->mask[fault] && at_start_.states[fault] != belief::kAbsent) claim.is_true = true;
  }
  if (what->plugs) {
    claim.is_true = !(at_start_.real.plug_in == case_->setting().chain().home.plug_in);
  }
  claims_.push_back(std::move(claim));
  return std::nullopt;
}

std::optional<Problem> Drill::check(const Event& event) {
  if (stage_ != Stage::ending) {
    return Problem{event.place, "checks are asked for at the end", "a move, or an end", ""};
  }
  const std::vector<std::string> known = all_checks();
  for (const std::string& one : event.checks) {
    if (std::find(known.begin(), known.end(), one) != known.end()) continue;
    return Problem{event.place, "no check \"" + one + "\"", one_of(known), nearest(one, known)};
  }
  checks_ = event.checks;
  stage_ = Stage::ended;
  return std::nullopt;
}

std::vector<std::string> Drill::all_checks() const {
  std::vector<std::string> all;
  const auto add = [&](const std::vector<std::string>& more) {
    for (const std::string& one : more) {
      if (std::find(all.begin(), all.end(), one) == all.end()) all.push_back(one);
    }
  };
  for (const faults::Remedy& remedy : case_->setting().rules().remedies) {
    if (!remedy.by_service) add(remedy.needs_after);
  }
  for (const faults::PartKind& kind : case_->setting().rules().part_kinds) add(kind.needs_after);
  return all;
}

void Drill::play_out() {
  while (stage_ == Stage::under_way) {
    const Choice choice = values_->advised();
    Event event;
    switch (choice.verdict) {
      case plan::Verdict::move:
        event = {Say::move, choice.move->name, 0, {}, {}};
        break;
      case plan::Verdict::close:
        event.say = Say::close;
        break;
      case plan::Verdict::service:
        event.say = Say::service;
        break;
    }
    if (take(event)) return;
  }
  if (stage_ != Stage::ending) return;
  Event checks;
  checks.say = Say::checks;
  checks.checks = case_->ending(guide::Stage::mended).needs_after;
  if (take(checks)) stage_ = Stage::ended;
}

}  // namespace whichlink::drill
