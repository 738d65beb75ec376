#include "plan/planner.h"

#include <algorithm>
#include <memory>

#include "plan/repairs.h"

namespace whichlink::plan {
namespace {

// The price of a new part is due if it stays in, which it does when the trouble is gone with it.
double part_price(const moves::Setting& setting, const Candidate& candidate) {
  const auto* swap = std::get_if<moves::Substitute>(&candidate.move.action);
  if (swap == nullptr || !setting.chain().parts[swap->in].spare) return 0;
  const double stays_in = candidate.prediction.outcomes.front().chance;
  return stays_in * setting.rules().part_kinds[setting.chain().parts[swap->out].kind].price_minutes;
}

// Candidates share their repairs wherever they lead to the same patching once it is put back.
class RepairBook {
 public:
  explicit RepairBook(const moves::Setting& setting) : setting_(setting) {}

  struct Page {
    chain::Patching patching;
    std::vector<Repair> repairs;
    std::vector<bool> matters;
  };

  const Page& at(const moves::Standing& standing) {
    chain::Patching patching = settled(setting_, standing);
    for (const std::unique_ptr<Page>& page : pages_) {
      if (page->patching == patching) return *page;
    }
    moves::Standing from_the_start = standing;
    from_the_start.place = setting_.installation().start;
    pages_.push_back(
        std::make_unique<Page>(Page{std::move(patching), repairs_for(setting_, from_the_start),
                                    faults_that_matter(setting_, standing)}));
    return *pages_.back();
  }

 private:
  const moves::Setting& setting_;
  std::vector<std::unique_ptr<Page>> pages_;
};

}  // namespace

Plan plan_next(const moves::Setting& setting, const CaseBelief& belief,
               const moves::Standing& standing, const std::vector<std::string>& cannot) {
  const faults::Prices& prices = setting.installation().prices;
  Plan plan;
  RepairBook book(setting);
  plan.something_wrong = belief.something_wrong(standing);
  const double undo = moves::put_back_minutes(setting, standing);
  plan.close_minutes = undo + prices.miss_minutes * plan.something_wrong;
  plan.service_minutes = undo + prices.service_minutes;

  for (moves::Move& move : moves::derive_moves(setting, standing)) {
    if (std::find(cannot.begin(), cannot.end(), move.name) != cannot.end()) continue;
    Candidate candidate;
    candidate.prediction = belief.predict(standing, move);
    const moves::Standing next = moves::after(setting, standing, move);
    const RepairBook::Page& page = book.at(next);
    double to_go = moves::put_back_minutes(setting, next);
    for (const PredictedOutcome& outcome : candidate.prediction.outcomes) {
      if (outcome.chance <= 0) continue;
      to_go += outcome.chance * minutes_to_go(page.repairs, page.matters, outcome.present,
                                              outcome.crossed, outcome.something_wrong, prices);
    }
    candidate.move = std::move(move);
    candidate.expected_minutes = candidate.move.minutes + part_price(setting, candidate) + to_go;
    plan.candidates.push_back(std::move(candidate));
  }
  std::stable_sort(plan.candidates.begin(), plan.candidates.end(),
                   [](const Candidate& a, const Candidate& b) {
                     return a.expected_minutes < b.expected_minutes;
                   });
  const double way_out = std::min(plan.close_minutes, plan.service_minutes);
  if (plan.candidates.empty() || plan.candidates.front().expected_minutes >= way_out) {
    plan.verdict = plan.close_minutes <= plan.service_minutes ? Verdict::close : Verdict::service;
  }
  return plan;
}

}  // namespace whichlink::plan
