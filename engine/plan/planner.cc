#include "plan/planner.h"

#include <algorithm>
#include <memory>

#include "plan/ways.h"

namespace whichlink::plan {
namespace {

// The price of a new part is due if it stays in, which it does when the trouble is gone with it.
double part_price(const moves::Setting& setting, const Weighed& one) {
  const auto* swap = std::get_if<moves::Substitute>(&one.way->move.action);
  if (swap == nullptr || !setting.chain().parts[swap->in].spare) return 0;
  const double stays_in = one.prediction.front().chance;
  return stays_in * setting.rules().part_kinds[setting.chain().parts[swap->out].kind].price_minutes;
}

// What a move must save, in minutes still to go, before it is worth making at all: one that saves
// nothing could only put the decision off.
constexpr double kLeastSaving = 0.02;

// What a move counts as where moves are to be few (judged; about the mean of the moves of a booth).
constexpr double kMinutesOfAnyMove = 2;
// A split below this many bits decides nothing: then the plan is the one that saves time.
constexpr double kWorthSplitting = 0.05;

/// All that can be made, later best first.
using Ranking = std::vector<Weighed*>;

/// What is still to go after a report, in minutes.
class ToGo {
 public:
  /// @param of_matters  predictions speak of the faults that matter alone
  explicit ToGo(bool of_matters) : of_matters_(of_matters) {}
  [[nodiscard]] double after(const Weighed& one, const PredictedOutcome& outcome, bool heard,
                             double closing) const {
    Outlook& outlook = *one.way->outlook;
    const auto minutes = [&](const std::vector<double>& present) {
      return outlook.minutes({present, outcome.crossed, outcome.something_wrong, heard}, closing);
    };
    return minutes(of_matters_ ? outcome.present : outlook.of_matters(outcome.present));
  }

 private:
  bool of_matters_;
};

// The best splits a minute first; the rest stays in its order.
void put_splits_first(const CaseBelief& belief, KnownWays& known, Ranking& ranking) {
  std::vector<std::pair<double, Weighed*>> order;
  for (Weighed* one : ranking) {
    const double bits = one->idle ? 0 : belief.bits(one->asked, one->reports, known.buffers());
    order.emplace_back(bits < kWorthSplitting ? 0 : -bits / one->way->move.minutes, one);
  }
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::transform(order.begin(), order.end(), ranking.begin(),
                 [](const auto& one) { return one.second; });
}

// The best split a minute alone, as put_splits_first finds it: most need not be asked.
void put_best_split_first(const CaseBelief& belief, KnownWays& known, Ranking& ranking) {
  std::vector<std::pair<double, std::size_t>> hopes;  // the most it may be, negative
  for (std::size_t index = 0; index < ranking.size(); ++index) {
    const Weighed& one = *ranking[index];
    if (one.idle) continue;
    const double most = belief.most_bits(one.asked, one.prediction, one.reports);
    if (most >= kWorthSplitting) hopes.emplace_back(-most / one.way->move.minutes, index);
  }
  std::sort(hopes.begin(), hopes.end());
  std::pair<double, std::size_t> best{0, 0};
  for (const auto& [hope, index] : hopes) {
    if (hope > best.first) break;
    const Weighed& one = *ranking[index];
    const double bits = belief.bits(one.asked, one.reports, known.buffers());
    if (bits < kWorthSplitting) continue;
    best = std::min(best, {-bits / one.way->move.minutes, index});
  }
  const auto found = ranking.begin() + static_cast<std::ptrdiff_t>(best.second);
  std::rotate(ranking.begin(), found, std::next(found));
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
double closing_minutes(const moves::Setting& setting, const Ranking& ranking, const ToGo& to_go) {
  double least = setting.installation().prices.service_minutes;
  for (const Weighed* one : ranking) {
    if (!one->way->repairs) continue;
    const PredictedOutcome& sound = one->prediction.front();
    if (sound.chance <= 0) continue;
    least = std::min(least, to_go.after(*one, sound, false, 0));
  }
  return least;
}

// What every move that can be made may be followed by.
Ranking predicted(const CaseBelief& belief, KnownWays& known, Ways& here,
                  const std::vector<std::string>& cannot, bool first_only) {
  std::vector<const std::vector<Asked>*> lists;
  for (const Hypothesis& one : belief.hypotheses()) {
    lists.push_back(CaseBelief::is_asked(one) ? &known.asked(here, one.real) : nullptr);
  }
  const belief::Wanted every =
      belief::wanted(std::vector<bool>(first_only ? 0 : belief.fault_count(), true));
  std::vector<Weighed>& room = known.weighed(here.ways.size());
  Ranking ranking;
  ranking.reserve(here.ways.size());
  for (std::size_t move = 0; move < here.ways.size(); ++move) {
    const Way& way = here.ways[move];
    if (std::find(cannot.begin(), cannot.end(), way.move.name) != cannot.end()) continue;
    Weighed& one = room[move];
    one.way = &way;
    one.asked.clear();
    for (const std::vector<Asked>* list : lists) {
      one.asked.push_back(list == nullptr ? nullptr : &(*list)[move]);
    }
    belief.predict(one.asked, way.matters, first_only ? way.wanted : every, one.prediction,
                   one.reports, known.buffers());
    ranking.push_back(&one);
  }
  return ranking;
}

// What is still to go after the move, by one step of look-ahead.
double minutes_after(const Weighed& one, bool heard_wrong, double closing, const ToGo& to_go) {
  double minutes = one.way->put_back_minutes;
  for (std::size_t index = 0; index < one.prediction.size(); ++index) {
    const PredictedOutcome& outcome = one.prediction[index];
    if (outcome.chance <= 0) continue;
    const bool still_heard = one.way->tells_of_the_route ? index != 0 : heard_wrong;
    minutes += outcome.chance * to_go.after(one, outcome, still_heard, closing);
  }
  return minutes;
}

// @param first_only  of the candidates only which comes first is wanted, and what that is chosen by
Plan plan_by(const moves::Setting& setting, const CaseBelief& belief,
             const moves::Standing& standing, const std::vector<std::string>& cannot,
             bool heard_wrong, Aim aim, const Depth& depth, KnownWays& known, bool first_only) {
  Plan plan;
  Ways& here = known.at(standing);
  std::optional<CaseBelief> thin;
  if (aim == Aim::split) thin.emplace(belief.thinned(kTooLightToSplit));
  const CaseBelief& weighed_by = thin ? *thin : belief;
  const std::vector<double> present = here.outlook->of_matters(weighed_by.present_now());
  const State now{present, weighed_by.crossed_now(standing), weighed_by.something_wrong(standing),
                  heard_wrong};
  plan.something_wrong = thin ? belief.something_wrong(standing) : now.something_wrong;
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
  Ranking ranking = predicted(weighed_by, known, here, cannot, first_only);
  const ToGo to_go(first_only);
  const double closing = closing_minutes(setting, ranking, to_go);
  const double as_things_stand = here.put_back_minutes + here.outlook->minutes(now, closing);
  for (Weighed* one : ranking) {
    const double after = minutes_after(*one, heard_wrong, closing, to_go);
    one->idle = after > as_things_stand - kLeastSaving;
    one->expected_minutes =
        known.minutes_each().value_or(one->way->move.minutes) + part_price(setting, *one) + after;
  }
  std::stable_sort(ranking.begin(), ranking.end(), [](const Weighed* a, const Weighed* b) {
    if (a->idle != b->idle) return b->idle;
    return a->expected_minutes < b->expected_minutes;
  });
  if (ranking.empty() || ranking.front()->idle || ranking.front()->expected_minutes >= way_out) {
    plan.verdict = ending;
  }
  if (aim == Aim::split && plan.verdict == Verdict::move) {
    if (first_only) {
      put_best_split_first(weighed_by, known, ranking);
    } else {
      put_splits_first(weighed_by, known, ranking);
    }
  }
  // The search may put another move first.
  const bool one_is_wanted = first_only && !searches && !ranking.empty();
  if (one_is_wanted) ranking.erase(std::next(ranking.begin()), ranking.end());
  plan.candidates.reserve(ranking.size());
  for (Weighed* one : ranking) {
    plan.candidates.push_back(
        {one->way->move, std::move(one->prediction), one->idle, one->expected_minutes});
  }
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
