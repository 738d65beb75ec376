#include "search/bounds.h"

#include <algorithm>
#include <limits>
#include <numeric>

namespace whichlink::search {
namespace {

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
}

using Table = std::vector<std::vector<double>>;

// What follows an action from one state, if the state before is told after the next choice.
double following(const Process& process, const Table& bound, std::size_t action, std::size_t state,
                 std::vector<double>& by_choice) {
  const std::size_t actions = process.actions();
  std::fill(by_choice.begin(), by_choice.end(), 0.0);
  for (const Entry& to : process.next[action][state]) {
    if (to.index == process.end()) continue;
    for (const Entry& report : process.reports[action][to.index]) {
      const double chance = to.chance * report.chance;
      double* row = by_choice.data() + report.index * actions;
      for (std::size_t choice = 0; choice < actions; ++choice) {
        row[choice] += chance * bound[choice][to.index];
      }
    }
  }
  double sum = 0;
  for (std::size_t report = 0; report < process.observations; ++report) {
    const auto row = by_choice.begin() + static_cast<std::ptrdiff_t>(report * actions);
    sum += *std::min_element(row, row + static_cast<std::ptrdiff_t>(actions));
  }
  return sum;
}

}  // namespace

Table informed_bound(const Process& process, std::size_t sweeps) {
  constexpr double kSettled = 1e-12;
  Table bound(process.actions(), std::vector<double>(process.states(), 0.0));
  std::vector<double> by_choice(process.observations * process.actions());
  for (std::size_t sweep = 0; sweep < sweeps; ++sweep) {
    double change = 0;
    // In place: every entry only grows, and stays below the least cost.
    for (std::size_t action = 0; action < process.actions(); ++action) {
      for (std::size_t state = 0; state < process.end(); ++state) {
        const double value =
            process.minutes[action][state] + following(process, bound, action, state, by_choice);
        change = std::max(change, value - bound[action][state]);
        bound[action][state] = std::max(bound[action][state], value);
      }
    }
    if (change <= kSettled) break;
  }
  return bound;
}

double least(const Table& bound, const Belief& belief) {
  double best = std::numeric_limits<double>::infinity();
  for (const std::vector<double>& row : bound) best = std::min(best, dot(row, belief));
  return best;
}

LowerBound::LowerBound(const Process& process, std::size_t sweeps)
    : informed_(informed_bound(process, sweeps)), corner_(process.states(), 0.0) {
  for (std::size_t state = 0; state < process.end(); ++state) {
    corner_[state] = std::numeric_limits<double>::infinity();
    for (const std::vector<double>& row : informed_) {
      corner_[state] = std::min(corner_[state], row[state]);
    }
  }
}

double LowerBound::between_states(const Belief& belief) const {
  return dot(corner_, belief);
}

double LowerBound::at(const Belief& belief) const {
  const double base = between_states(belief);
  double best = 0;
  for (const Point& point : points_) {
    // As much of the point as the belief holds of each of its states.
    double share = std::numeric_limits<double>::infinity();
    for (const Entry& one : point.belief) {
      share = std::min(share, belief[one.index] / one.chance);
      if (share * point.above <= best) break;
    }
    best = std::max(best, share * point.above);
  }
  return std::max(base + best, least(informed_, belief));
}

void LowerBound::add(const Belief& belief, double value) {
  const double total = mass(belief);
  const double above = (value - between_states(belief)) / total;
  if (above <= 0) return;
  Point point{{}, above};
  for (std::uint32_t state = 0; state < belief.size(); ++state) {
    if (belief[state] > 0) point.belief.push_back({state, belief[state] / total});
  }
  points_.push_back(std::move(point));
}

UpperBound::UpperBound(const Process& process) {
  for (std::size_t action = 0; action < process.actions(); ++action) {
    const bool ends = std::all_of(
        process.next[action].begin(), process.next[action].end(),
        [&](const Row& row) { return row.size() == 1 && row.front().index == process.end(); });
    if (ends) plans_.push_back(process.minutes[action]);
  }
}

std::size_t UpperBound::best(const Belief& belief) const {
  std::size_t best = 0;
  double least_cost = std::numeric_limits<double>::infinity();
  for (std::size_t plan = 0; plan < plans_.size(); ++plan) {
    const double value = dot(plans_[plan], belief);
    if (value >= least_cost) continue;
    least_cost = value;
    best = plan;
  }
  return best;
}

double UpperBound::at(const Belief& belief) const {
  return dot(plans_[best(belief)], belief);
}

void UpperBound::add(std::vector<double> costs) {
  plans_.push_back(std::move(costs));
}

}  // namespace whichlink::search
