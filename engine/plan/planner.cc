#include "plan/planner.h"

#include <algorithm>
#include <memory>

#include "plan/ways.h"

namespace whichlink::plan {
namespace {

// The price of a new part is due if it stays in, which it does when the trouble is gone with it.
double part_price(const moves::Setting& setting, const Candidate& candidate) {
  const auto* swap = std::get_if<moves::Substitute>(&candidate.move.action);
  if (swap == nullptr || !setting.chain().parts[swap->in].spare) return 0;
  const double stays_in = candidate.prediction.front().chance;
  return stays_in * setting.rules().part_kinds[setting.chain().parts[swap->out].kind].price_minutes;
}

// What a move must save, in minutes still to go, before it is worth making at all: one that saves
// nothing could only put the decision off.
constexpr double kLeastSaving = 0.02;

// What a move counts as where moves are to be few (judged; about the mean of the moves of a booth).
constexpr double kMinutesOfAnyMove = 2;
// A split below this many bits decides nothing: then the plan is the one that saves time.
constexpr double kWorthSplitting = 0.05;

/// What is put together for a candidate on the way to a plan.
struct Weighed {
  Candidate candidate;
  const Way* way = nullptr;
  AskedOfAll asked;
  Reports reports;
  bool of_matters = false;  ///< the prediction speaks of the faults that matter alone

  /// In minutes, of one report.
  [[nodiscard]] double outlook(const PredictedOutcome& outcome, bool heard, double closing) const {
    const auto minutes = [&](const std::vector<double>& present) {
      return way->outlook->minutes({present, outcome.crossed, outcome.something_wrong, heard},
                                   closing);
    };
    return minutes(of_matters ? outcome.present : way->outlook->of_matters(outcome.present));
  }
};

// The best splits a minute first; the rest stays in its order.
void put_splits_first(const CaseBelief& belief, KnownWays& known, std::vector<Weighed>& weighed) {
  std::vector<std::pair<double, std::size_t>> order;
  for (std::size_t index = 0; index < weighed.size(); ++index) {
    const Weighed& one = weighed[index];
    const double bits =
        one.candidate.idle ? 0 : belief.bits(one.asked, one.reports, known.buffers());
    order.emplace_back(bits < kWorthSplitting ? 0 : -bits / one.candidate.move.minutes, index);
  }
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Weighed> sorted;
  sorted.reserve(weighed.size());
  for (const auto& [negative, index] : order) sorted.push_back(std::move(weighed[index]));
  weighed = std::move(sorted);
}

// The best split a minute alone, as put_splits_first finds it: most need not be asked.
void put_best_split_first(const CaseBelief& belief, KnownWays& known,
                          std::vector<Weighed>& weighed) {
  std::vector<std::pair<double, std::size_t>> hopes;  // the most it may be, negative
  for (std::size_t index = 0; index < weighed.size(); ++index) {
    const Candidate& one = weighed[index].candidate;
    if (one.idle) continue;
    const double most =
        belief.most_bits(weighed[index].asked, one.prediction, weighed[index].reports);
    if (most >= kWorthSplitting) hopes.emplace_back(-most / one.move.minutes, index);
  }
  std::sort(hopes.begin(), hopes.end());
  std::pair<double, std::size_t> best{0, 0};
  for (const auto& [hope, index] : hopes) {
    if (hope > best.first) break;
    const Weighed& one = weighed[index];
    const double bits = belief.bits(one.asked, one.reports, known.buffers());
    if (bits < kWorthSplitting) continue;
    best = std::min(best, {-bits / one.candidate.move.minutes, index});
  }
  const auto found = weighed.begin() + static_cast<std::ptrdiff_t>(best.second);
  std::rotate(weighed.begin(), found, std::next(found));
}

// What the search begins with comes first. It knows only a part of the case, so it may not end the
// case, nor make a move that saves nothing; but where even that part is worth one more move, it is
// too soon to close.
void put_searched_first(Plan& plan) {
  if (!plan.ahead || !plan.ahead->move || plan.verdict == Verdict::service) return;
  const auto found = std::find_if(
      plan.candidates.begin(), plan.candidates.end(),
      [&](const Candidate& one) { return !one.idle && one.move.name == plan.ahead->move->name; });
  if (found == plan.candidates.end()) return;
  std::rotate(plan.candidates.begin(), found, std::next(found));
  plan.verdict = Verdict::move;
}

// What it takes to close the case after the repair that leaves least doubt, once it seems to have
// worked.
double closing_minutes(const moves::Setting& setting, const std::vector<Weighed>& weighed) {
  double least = setting.installation().prices.service_minutes;
  for (const Weighed& one : weighed) {
    if (!one.way->repairs) continue;
    const PredictedOutcome& sound = one.candidate.prediction.front();
    if (sound.chance <= 0) continue;
    least = std::min(least, one.outlook(sound, false, 0));
  }
  return least;
}

AskedOfAll asked_of(const std::vector<const std::vector<Asked>*>& lists, std::size_t move) {
  AskedOfAll asked;
  asked.reserve(lists.size());
  for (const std::vector<Asked>* list : lists) {
    asked.push_back(list == nullptr ? nullptr : &(*list)[move]);
  }
  return asked;
}

// What every move that can be made may be followed by.
std::vector<Weighed> predicted(const CaseBelief& belief, KnownWays& known, Ways& here,
                               const std::vector<std::string>& cannot, bool first_only) {
  std::vector<const std::vector<Asked>*> lists;
  for (const Hypothesis& one : belief.hypotheses()) {
    lists.push_back(CaseBelief::is_asked(one) ? &known.asked(here, one.real) : nullptr);
  }
  const belief::Wanted every =
      belief::wanted(std::vector<bool>(first_only ? 0 : belief.fault_count(), true));
  std::vector<Weighed> weighed;
  weighed.reserve(here.ways.size());
  for (std::size_t move = 0; move < here.ways.size(); ++move) {
    const Way& way = here.ways[move];
    if (std::find(cannot.begin(), cannot.end(), way.move.name) != cannot.end()) continue;
    Weighed one{{way.move, {}, false, 0}, &way, asked_of(lists, move), {}, first_only};
    one.candidate.prediction = belief.predict(
        one.asked, way.matters, first_only ? way.wanted : every, one.reports, known.buffers());
    weighed.push_back(std::move(one));
  }
  return weighed;
}

// What is still to go after the move, by one step of look-ahead.
double minutes_after(const Weighed& one, bool heard_wrong, double closing) {
  double to_go = one.way->put_back_minutes;
  const Prediction& prediction = one.candidate.prediction;
  for (std::size_t index = 0; index < prediction.size(); ++index) {
    const PredictedOutcome& outcome = prediction[index];
    if (outcome.chance <= 0) continue;
    const bool still_heard = one.way->tells_of_the_route ? index != 0 : heard_wrong;
    to_go += outcome.chance * one.outlook(outcome, still_heard, closing);
  }
  return to_go;
}

// @param first_only  of the candidates only which comes first is wanted, and what that is chosen by
Plan plan_by(const moves::Setting& setting, const CaseBelief& belief,
             const moves::Standing& standing, const std::vector<std::string>& cannot,
             bool heard_wrong, Aim aim, const Depth& depth, KnownWays& known, bool first_only) {
  Plan plan;
  Ways& here = known.at(standing);
  const std::vector<double> present = here.outlook->of_matters(belief.present_now());
  const State now{present, belief.crossed_now(standing), belief.something_wrong(standing),
                  heard_wrong};
  plan.something_wrong = now.something_wrong;
  plan.close_minutes = here.put_back_minutes + here.outlook->close_minutes(now);
  plan.service_minutes = here.put_back_minutes + here.outlook->service_minutes(now);

  const double way_out = std::min(plan.close_minutes, plan.service_minutes);
  const Verdict ending =
      plan.close_minutes <= plan.service_minutes ? Verdict::close : Verdict::service;
  const bool searches = aim == Aim::time && depth.work > 0;
  if (first_only && !searches && way_out <= known.least_minutes(here)) {
    plan.verdict = ending;
    return plan;
  }
  std::vector<Weighed> weighed = predicted(belief, known, here, cannot, first_only);
  const double closing = closing_minutes(setting, weighed);
  const double as_things_stand = here.put_back_minutes + here.outlook->minutes(now, closing);
  for (Weighed& one : weighed) {
    Candidate& candidate = one.candidate;
    const double to_go = minutes_after(one, heard_wrong, closing);
    candidate.idle = to_go > as_things_stand - kLeastSaving;
    candidate.expected_minutes = known.minutes_each().value_or(candidate.move.minutes) +
                                 part_price(setting, candidate) + to_go;
  }
  std::stable_sort(weighed.begin(), weighed.end(), [](const Weighed& a, const Weighed& b) {
    if (a.candidate.idle != b.candidate.idle) return b.candidate.idle;
    return a.candidate.expected_minutes < b.candidate.expected_minutes;
  });
  if (weighed.empty() || weighed.front().candidate.idle ||
      weighed.front().candidate.expected_minutes >= way_out) {
    plan.verdict = ending;
  }
  if (aim == Aim::split && plan.verdict == Verdict::move) {
    if (first_only) {
      put_best_split_first(belief, known, weighed);
    } else {
      put_splits_first(belief, known, weighed);
    }
  }
  plan.candidates.reserve(weighed.size());
  for (Weighed& one : weighed) plan.candidates.push_back(std::move(one.candidate));
  if (searches) {
    plan.ahead = search_ahead(setting, belief, standing, cannot, depth);
    put_searched_first(plan);
  }
  return plan;
}

}  // namespace

KnownWays ways_for(const moves::Setting& setting, std::size_t listener, Aim aim) {
  return {setting, listener, aim == Aim::moves ? std::optional(kMinutesOfAnyMove) : std::nullopt};
}

Plan plan_next(const moves::Setting& setting, const CaseBelief& belief,
               const moves::Standing& standing, const std::vector<std::string>& cannot,
               bool heard_wrong, Aim aim, const Depth& depth) {
  KnownWays known = ways_for(setting, belief.listener(), aim);
  return plan_by(setting, belief, standing, cannot, heard_wrong, aim, depth, known, false);
}

Plan plan_first(const moves::Setting& setting, const CaseBelief& belief,
                const moves::Standing& standing, const std::vector<std::string>& cannot,
                bool heard_wrong, Aim aim, const Depth& depth, KnownWays& known) {
  return plan_by(setting, belief, standing, cannot, heard_wrong, aim, depth, known, true);
}

}  // namespace whichlink::plan
