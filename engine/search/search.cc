#include "search/search.h"

#include <algorithm>
#include <limits>

namespace whichlink::search {
namespace {

// The search itself goes on from there; later sweeps gain little for what they take.
constexpr std::size_t kSweeps = 2;
constexpr std::size_t kDeepest = 400;
// Both judged by what the bounds came to in the same time.
constexpr std::size_t kBeginningSweeps = 2;
constexpr double kUnsure = .2;

}  // namespace

Search::Search(const Process& process)
    : process_(process), lower_(process, kSweeps), upper_(process) {}

std::vector<Left> Search::after_each(std::size_t site, BeliefView belief) const {
  std::vector<Left> lefts;
  const std::size_t choices = process_.sites[site].choices.size();
  lefts.reserve(choices);
  for (std::size_t choice = 0; choice < choices; ++choice) {
    lefts.emplace_back(process_, site, belief, choice);
  }
  return lefts;
}

double Search::lower_of(const Choice& choice, BeliefView belief, const Left& left) const {
  double sum = cost(choice, belief);
  for (std::size_t one = 0; one < left.observations(); ++one) {
    if (left.mass(one) > 0) sum += lower_.at(left.site(), left.belief(one));
  }
  return sum;
}

double Search::upper_of(const Choice& choice, BeliefView belief, const Left& left) const {
  double sum = cost(choice, belief);
  for (std::size_t one = 0; one < left.observations(); ++one) {
    if (left.mass(one) > 0) sum += upper_.at(left.site(), left.belief(one));
  }
  return sum;
}

// Each choice and report asks both bounds once, whatever comes of it: an estimate that depends on
// nothing but the numbers, as time would.
std::size_t Search::work_of(const std::vector<Left>& lefts) const {
  std::size_t work = 0;
  for (const Left& left : lefts) {
    std::size_t possible = 0;
    for (std::size_t one = 0; one < left.observations(); ++one)
      possible += left.mass(one) > 0 ? 1 : 0;
    work += possible * (lower_.size(left.site()) + upper_.size(left.site()));
  }
  return work;
}

void Search::back_up(std::size_t site, BeliefView belief, const std::vector<Left>& lefts) {
  ++backups_;
  const Site& here = process_.sites[site];
  double lower = std::numeric_limits<double>::infinity();
  for (std::size_t number = 0; number < here.choices.size(); ++number) {
    lower = std::min(lower, lower_of(here.choices[number], belief, lefts[number]));
  }
  if (lower > lower_.at(site, belief)) lower_.add(site, belief, lower);
  improve_plan(site, belief, lefts);
}

// Plans for whoever is nearly sure of one state, everywhere: what a search from the start would
// come to only after it had tried everything that looks cheaper.
void Search::begin_plans() {
  for (std::size_t sweep = 0; sweep < kBeginningSweeps; ++sweep) {
    for (std::size_t site = process_.sites.size(); site-- > 0;) {
      const std::size_t states = process_.sites[site].states;
      for (std::size_t state = 0; state < states; ++state) {
        Belief belief(states, kUnsure / static_cast<double>(states));
        belief[state] += 1 - kUnsure;
        const std::vector<Left> lefts = after_each(site, belief);
        work_ += work_of(lefts);
        improve_plan(site, belief, lefts);
      }
    }
  }
}

void Search::improve_plan(std::size_t site, BeliefView belief, const std::vector<Left>& lefts) {
  const Site& here = process_.sites[site];
  double upper = upper_.at(site, belief);
  std::size_t best = here.choices.size();
  for (std::size_t number = 0; number < here.choices.size(); ++number) {
    const double cost_of_plan = upper_of(here.choices[number], belief, lefts[number]);
    if (cost_of_plan >= upper) continue;
    upper = cost_of_plan;
    best = number;
  }
  if (best < here.choices.size()) add_plan(site, best, lefts[best]);
}

// The choice, and after each report the plan that is best there: its cost from every state.
void Search::add_plan(std::size_t site, std::size_t number, const Left& left) {
  const Choice& choice = process_.sites[site].choices[number];
  std::vector<const double*> after;
  after.reserve(left.observations());
  for (std::size_t one = 0; one < left.observations(); ++one) {
    after.push_back(upper_.costs(left.site(), upper_.best(left.site(), left.belief(one))).data());
  }
  std::vector<double> costs = choice.minutes;
  for (std::size_t state = 0; state < costs.size(); ++state) {
    for (const Arc& arc : choice.arcs[state]) {
      costs[state] += arc.chance * after[arc.observation][arc.to];
    }
  }
  upper_.add(site, std::move(costs));
}

void Search::explore(std::size_t site, BeliefView belief, double gap, std::size_t depth,
                     std::size_t most_work) {
  if (upper_.at(site, belief) - lower_.at(site, belief) <= gap * mass(belief)) return;
  const std::vector<Left> lefts = after_each(site, belief);
  work_ += work_of(lefts);
  if (depth < kDeepest && work_ < most_work) {
    const Site& here = process_.sites[site];
    std::size_t best = 0;
    double least_cost = std::numeric_limits<double>::infinity();
    for (std::size_t number = 0; number < here.choices.size(); ++number) {
      const double value = lower_of(here.choices[number], belief, lefts[number]);
      if (value >= least_cost) continue;
      least_cost = value;
      best = number;
    }
    const Left& left = lefts[best];
    std::size_t widest = left.observations();
    double most_excess = 0;
    for (std::size_t one = 0; one < left.observations(); ++one) {
      if (left.mass(one) <= 0) continue;
      const BeliefView view = left.belief(one);
      const double excess =
          upper_.at(left.site(), view) - lower_.at(left.site(), view) - gap * left.mass(one);
      if (excess <= most_excess) continue;
      most_excess = excess;
      widest = one;
    }
    if (widest < left.observations()) {
      explore(left.site(), left.belief(widest), gap, depth + 1, most_work);
    }
  }
  back_up(site, belief, lefts);
}

void Search::refine(double gap, std::size_t most_work) {
  if (!begun_) begin_plans();
  begun_ = true;
  const auto gap_now = [&] {
    return upper_.at(process_.start_site, process_.start) -
           lower_.at(process_.start_site, process_.start);
  };
  while (work_ < most_work && gap_now() > gap) {
    const std::size_t before = backups_;
    explore(process_.start_site, process_.start, gap / 2, 0, most_work);
    if (backups_ == before) return;
  }
}

Answer Search::answer_at(std::size_t site, BeliefView belief) const {
  Answer answer;
  answer.lower = lower_.at(site, belief);
  answer.upper = upper_.at(site, belief);
  answer.backups = backups_;
  double least_cost = std::numeric_limits<double>::infinity();
  const std::vector<Left> lefts = after_each(site, belief);
  for (std::size_t number = 0; number < lefts.size(); ++number) {
    const double value = upper_of(process_.sites[site].choices[number], belief, lefts[number]);
    if (value >= least_cost) continue;
    least_cost = value;
    answer.choice = number;
  }
  answer.upper = std::min(answer.upper, least_cost);
  return answer;
}

Answer Search::answer() const {
  return answer_at(process_.start_site, process_.start);
}

}  // namespace whichlink::search
