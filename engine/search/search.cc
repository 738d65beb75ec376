#include "search/search.h"

#include <algorithm>
#include <limits>

namespace whichlink::search {
namespace {

constexpr std::size_t kSweeps = 2000;
constexpr std::size_t kDeepest = 400;

}  // namespace

Search::Search(const Process& process)
    : process_(process), lower_(process, kSweeps), upper_(process) {}

double Search::lower_of(const Belief& belief, std::size_t action,
                        const std::vector<Belief>& left) const {
  double sum = cost(process_, belief, action);
  for (const Belief& one : left) {
    if (mass(one) > 0) sum += lower_.at(one);
  }
  return sum;
}

void Search::back_up(const Belief& belief) {
  ++backups_;
  double lower = std::numeric_limits<double>::infinity();
  double upper = std::numeric_limits<double>::infinity();
  std::size_t best = 0;
  for (std::size_t action = 0; action < process_.actions(); ++action) {
    const std::vector<Belief> left = after(process_, belief, action);
    lower = std::min(lower, lower_of(belief, action, left));
    double cost_of_plan = cost(process_, belief, action);
    for (const Belief& one : left) cost_of_plan += mass(one) > 0 ? upper_.at(one) : 0;
    if (cost_of_plan >= upper) continue;
    upper = cost_of_plan;
    best = action;
  }
  if (lower > lower_.at(belief)) lower_.add(belief, lower);
  if (upper >= upper_.at(belief)) return;
  // The action, and after each report the plan that is best there: its cost from every state.
  const std::vector<Belief> left = after(process_, belief, best);
  std::vector<std::size_t> plans;
  plans.reserve(left.size());
  for (const Belief& one : left) plans.push_back(upper_.best(one));
  std::vector<double> costs(process_.states(), 0.0);
  for (std::size_t state = 0; state < process_.end(); ++state) {
    costs[state] = process_.minutes[best][state];
    for (const Entry& to : process_.next[best][state]) {
      if (to.index == process_.end()) continue;
      for (const Entry& report : process_.reports[best][to.index]) {
        costs[state] += to.chance * report.chance * upper_.costs(plans[report.index])[to.index];
      }
    }
  }
  upper_.add(std::move(costs));
}

void Search::explore(const Belief& belief, double gap, std::size_t depth,
                     std::size_t most_backups) {
  if (upper_.at(belief) - lower_.at(belief) <= gap * mass(belief)) return;
  if (depth < kDeepest && backups_ < most_backups) {
    std::size_t best = 0;
    double least_cost = std::numeric_limits<double>::infinity();
    for (std::size_t action = 0; action < process_.actions(); ++action) {
      const double value = lower_of(belief, action, after(process_, belief, action));
      if (value >= least_cost) continue;
      least_cost = value;
      best = action;
    }
    const std::vector<Belief> left = after(process_, belief, best);
    const Belief* widest = nullptr;
    double most_excess = 0;
    for (const Belief& one : left) {
      const double here = mass(one);
      if (here <= 0) continue;
      const double excess = upper_.at(one) - lower_.at(one) - gap * here;
      if (excess <= most_excess) continue;
      most_excess = excess;
      widest = &one;
    }
    if (widest != nullptr) explore(*widest, gap, depth + 1, most_backups);
  }
  back_up(belief);
}

void Search::refine(double gap, std::size_t most_backups) {
  while (backups_ < most_backups && upper_.at(process_.start) - lower_.at(process_.start) > gap) {
    const std::size_t before = backups_;
    explore(process_.start, gap / 2, 0, most_backups);
    if (backups_ == before) return;
  }
}

Answer Search::answer_at(const Belief& belief) const {
  Answer answer;
  answer.lower = lower_.at(belief);
  answer.upper = upper_.at(belief);
  answer.backups = backups_;
  double least_cost = std::numeric_limits<double>::infinity();
  for (std::size_t action = 0; action < process_.actions(); ++action) {
    double value = cost(process_, belief, action);
    for (const Belief& one : after(process_, belief, action)) {
      if (mass(one) > 0) value += upper_.at(one);
    }
    if (value >= least_cost) continue;
    least_cost = value;
    answer.action = action;
  }
  answer.upper = std::min(answer.upper, least_cost);
  return answer;
}

Answer Search::answer() const {
  return answer_at(process_.start);
}

}  // namespace whichlink::search
