#include "plan/planner.h"

#include <algorithm>
#include <memory>

#include "plan/outlook.h"

namespace whichlink::plan {
namespace {

// The price of a new part is due if it stays in, which it does when the trouble is gone with it.
double part_price(const moves::Setting& setting, const Candidate& candidate) {
  const auto* swap = std::get_if<moves::Substitute>(&candidate.move.action);
  if (swap == nullptr || !setting.chain().parts[swap->in].spare) return 0;
  const double stays_in = candidate.prediction.front().chance;
  return stays_in * setting.rules().part_kinds[setting.chain().parts[swap->out].kind].price_minutes;
}

// Candidates share their outlook wherever they lead to the same patching once it is put back.
class Outlooks {
 public:
  Outlooks(const moves::Setting& setting, std::optional<double> minutes_each)
      : setting_(setting), minutes_each_(minutes_each) {}

  const Outlook& at(const moves::Standing& standing) {
    const chain::Patching patching = settled(setting_, standing);
    for (const auto& [known, outlook] : pages_) {
      if (known == patching) return *outlook;
    }
    pages_.emplace_back(patching, std::make_unique<Outlook>(setting_, standing, minutes_each_));
    return *pages_.back().second;
  }

 private:
  const moves::Setting& setting_;
  std::optional<double> minutes_each_;
  std::vector<std::pair<chain::Patching, std::unique_ptr<Outlook>>> pages_;
};

// A report from another route, or from a meter, leaves open what the route itself sounds like.
bool tells_of_the_route(const moves::Standing& standing, const moves::Move& move,
                        const moves::Setting& setting) {
  const auto& route = setting.chain().routes[standing.route];
  return move.heard_on == standing.route &&
         move.sense == setting.rules().signals[route.signal].sense;
}

bool repairs_something(const moves::Setting& setting, const moves::Move& move) {
  if (const auto* swap = std::get_if<moves::Substitute>(&move.action)) {
    return setting.chain().parts[swap->in].spare;
  }
  return std::holds_alternative<moves::Treat>(move.action) ||
         std::holds_alternative<moves::TraceLabels>(move.action);
}

// What a move must save, in minutes still to go, before it is worth making at all: one that saves
// nothing could only put the decision off.
constexpr double kLeastSaving = 0.02;

// What a move counts as where moves are to be few (judged; about the mean of the moves of a booth).
constexpr double kMinutesOfAnyMove = 2;
// A split below this many bits decides nothing: then the plan is the one that saves time.
constexpr double kWorthSplitting = 0.05;

// The best splits a minute first; the rest stays in its order.
void put_splits_first(const CaseBelief& belief, const moves::Standing& standing,
                      std::vector<Candidate>& candidates) {
  std::vector<std::pair<double, std::size_t>> order;
  for (std::size_t index = 0; index < candidates.size(); ++index) {
    const Candidate& one = candidates[index];
    const double bits = one.idle ? 0 : belief.bits(standing, one.move);
    order.emplace_back(bits < kWorthSplitting ? 0 : -bits / one.move.minutes, index);
  }
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Candidate> sorted;
  sorted.reserve(candidates.size());
  for (const auto& [negative, index] : order) sorted.push_back(std::move(candidates[index]));
  candidates = std::move(sorted);
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
double closing_minutes(const moves::Setting& setting, const moves::Standing& standing,
                       const std::vector<Candidate>& candidates, Outlooks& outlooks) {
  double least = setting.installation().prices.service_minutes;
  for (const Candidate& one : candidates) {
    if (!repairs_something(setting, one.move)) continue;
    const PredictedOutcome& sound = one.prediction.front();
    if (sound.chance <= 0) continue;
    const Outlook& outlook = outlooks.at(moves::after(setting, standing, one.move));
    least = std::min(
        least, outlook.minutes({sound.present, sound.crossed, sound.something_wrong, false}, 0));
  }
  return least;
}

}  // namespace

Plan plan_next(const moves::Setting& setting, const CaseBelief& belief,
               const moves::Standing& standing, const std::vector<std::string>& cannot,
               bool heard_wrong, Aim aim, const Depth& depth) {
  Plan plan;
  const bool count_moves = aim == Aim::moves;
  Outlooks outlooks(setting, count_moves ? std::optional(kMinutesOfAnyMove) : std::nullopt);
  const std::vector<double> present = belief.present_now();
  const State now{present, belief.crossed_now(standing), belief.something_wrong(standing),
                  heard_wrong};
  plan.something_wrong = now.something_wrong;
  const double undo = moves::put_back_minutes(setting, standing);
  plan.close_minutes = undo + outlooks.at(standing).close_minutes(now);
  plan.service_minutes = undo + outlooks.at(standing).service_minutes(now);

  for (moves::Move& move : moves::derive_moves(setting, standing)) {
    if (std::find(cannot.begin(), cannot.end(), move.name) != cannot.end()) continue;
    Candidate candidate;
    candidate.prediction = belief.predict(standing, move);
    candidate.move = std::move(move);
    plan.candidates.push_back(std::move(candidate));
  }
  const double closing = closing_minutes(setting, standing, plan.candidates, outlooks);
  const double as_things_stand = undo + outlooks.at(standing).minutes(now, closing);
  for (Candidate& candidate : plan.candidates) {
    const moves::Standing next = moves::after(setting, standing, candidate.move);
    const Outlook& outlook = outlooks.at(next);
    const bool tells = tells_of_the_route(standing, candidate.move, setting);
    double to_go = moves::put_back_minutes(setting, next);
    for (std::size_t index = 0; index < candidate.prediction.size(); ++index) {
      const PredictedOutcome& outcome = candidate.prediction[index];
      if (outcome.chance <= 0) continue;
      const bool still_heard = tells ? index != 0 : heard_wrong;
      to_go += outcome.chance * outlook.minutes({outcome.present, outcome.crossed,
                                                 outcome.something_wrong, still_heard},
                                                closing);
    }
    candidate.idle = to_go > as_things_stand - kLeastSaving;
    const double now_minutes = count_moves ? kMinutesOfAnyMove : candidate.move.minutes;
    candidate.expected_minutes = now_minutes + part_price(setting, candidate) + to_go;
  }
  std::stable_sort(plan.candidates.begin(), plan.candidates.end(),
                   [](const Candidate& a, const Candidate& b) {
                     if (a.idle != b.idle) return b.idle;
                     return a.expected_minutes < b.expected_minutes;
                   });
  const double way_out = std::min(plan.close_minutes, plan.service_minutes);
  if (plan.candidates.empty() || plan.candidates.front().idle ||
      plan.candidates.front().expected_minutes >= way_out) {
    plan.verdict = plan.close_minutes <= plan.service_minutes ? Verdict::close : Verdict::service;
  }
  if (aim == Aim::split && plan.verdict == Verdict::move) {
    put_splits_first(belief, standing, plan.candidates);
  }
  if (aim == Aim::time && depth.work > 0) {
    plan.ahead = search_ahead(setting, belief, standing, cannot, depth);
    put_searched_first(plan);
  }
  return plan;
}

}  // namespace whichlink::plan
