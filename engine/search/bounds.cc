#include "search/bounds.h"

#include <algorithm>
#include <limits>
#include <numeric>

namespace whichlink::search {
namespace {

// Changes below this, in minutes, are not worth another sweep.
constexpr double kSettled = 1e-6;

double dot(BeliefView a, BeliefView b) {
  return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
}

// What follows a choice from one state, if the state before is told after the next choice.
// @param bound  of the site that the choice leads to
double following(const Choice& choice, std::size_t state, const ChoiceCosts& bound,
                 std::size_t choices, std::vector<double>& by_choice) {
  by_choice.assign(choice.observations * choices, 0.0);
  for (const Arc& arc : choice.arcs[state]) {
    double* row = by_choice.data() + arc.observation * choices;
    const double* costs = bound.data() + arc.to * choices;
    for (std::size_t next = 0; next < choices; ++next) row[next] += arc.chance * costs[next];
  }
  double sum = 0;
  for (std::size_t observation = 0; observation < choice.observations; ++observation) {
    const double* row = by_choice.data() + observation * choices;
    sum += *std::min_element(row, row + choices);
  }
  return sum;
}

// What is left to pay from each state if every state were told at once, from the next choice on.
// @return by site, by state
std::vector<std::vector<double>> all_told(const Process& process) {
  std::vector<std::vector<double>> least;
  for (const Site& site : process.sites) least.emplace_back(site.states, 0.0);
  constexpr std::size_t kMostSweeps = 2000;
  for (std::size_t sweep = 0; sweep < kMostSweeps; ++sweep) {
    double change = 0;
    for (std::size_t site = 0; site < process.sites.size(); ++site) {
      for (std::size_t state = 0; state < process.sites[site].states; ++state) {
        double best = std::numeric_limits<double>::infinity();
        for (const Choice& choice : process.sites[site].choices) {
          double value = choice.minutes[state];
          for (const Arc& arc : choice.arcs[state]) {
            value += arc.chance * least[choice.to][arc.to];
          }
          best = std::min(best, value);
        }
        change = std::max(change, best - least[site][state]);
        least[site][state] = std::max(least[site][state], best);
      }
    }
    if (change <= kSettled) break;
  }
  return least;
}

}  // namespace

std::vector<ChoiceCosts> informed_bound(const Process& process, std::size_t sweeps) {
  // Below that already; a sweep of it asks nothing of the observations, so it is far quicker.
  const std::vector<std::vector<double>> told = all_told(process);
  std::vector<ChoiceCosts> bound;
  for (std::size_t site = 0; site < process.sites.size(); ++site) {
    const std::size_t choices = process.sites[site].choices.size();
    bound.emplace_back();
    for (const double least : told[site]) {
      bound.back().insert(bound.back().end(), choices, least);
    }
  }
  std::vector<double> by_choice;
  for (std::size_t sweep = 0; sweep < sweeps; ++sweep) {
    double change = 0;
    // In place: every entry only grows, and stays below the least cost.
    for (std::size_t site = 0; site < process.sites.size(); ++site) {
      const Site& here = process.sites[site];
      for (std::size_t number = 0; number < here.choices.size(); ++number) {
        const Choice& choice = here.choices[number];
        const std::size_t choices = process.sites[choice.to].choices.size();
        for (std::size_t state = 0; state < here.states; ++state) {
          const double value = choice.minutes[state] +
                               following(choice, state, bound[choice.to], choices, by_choice);
          double& known = bound[site][state * here.choices.size() + number];
          change = std::max(change, value - known);
          known = std::max(known, value);
        }
      }
    }
    if (change <= kSettled) break;
  }
  return bound;
}

LowerBound::LowerBound(const Process& process, std::size_t sweeps) {
  std::vector<ChoiceCosts> informed = informed_bound(process, sweeps);
  for (std::size_t site = 0; site < process.sites.size(); ++site) {
    OfSite here{std::move(informed[site]), {}, {}};
    const std::size_t choices = process.sites[site].choices.size();
    for (std::size_t state = 0; state < process.sites[site].states; ++state) {
      const double* row = here.informed.data() + state * choices;
      here.corner.push_back(*std::min_element(row, row + choices));
    }
    sites_.push_back(std::move(here));
  }
}

double LowerBound::informed_at(const OfSite& here, BeliefView belief) {
  const std::size_t choices = here.informed.size() / here.corner.size();
  std::vector<double> sums(choices, 0.0);
  for (std::size_t state = 0; state < belief.size(); ++state) {
    if (belief[state] == 0) continue;
    const double* row = here.informed.data() + state * choices;
    for (std::size_t choice = 0; choice < choices; ++choice) {
      sums[choice] += belief[state] * row[choice];
    }
  }
  return *std::min_element(sums.begin(), sums.end());
}

double LowerBound::at(std::size_t site, BeliefView belief) const {
  const OfSite& here = sites_[site];
  const double whole = mass(belief);
  double best = 0;
  for (const Point& point : here.points) {
    if (whole * point.above <= best) break;  // so are all that follow
    // As much of the point as the belief holds of each of its states.
    double share = std::numeric_limits<double>::infinity();
    const double worth = best / point.above;
    for (std::size_t at = 0; at < point.states.size() && share > worth; ++at) {
      share = std::min(share, belief[point.states[at]] / point.chances[at]);
    }
    best = std::max(best, share * point.above);
  }
  return std::max(dot(here.corner, belief) + best, informed_at(here, belief));
}

void LowerBound::add(std::size_t site, BeliefView belief, double value) {
  OfSite& here = sites_[site];
  const double total = mass(belief);
  const double above = (value - dot(here.corner, belief)) / total;
  if (above <= 0) return;
  Point point{{}, {}, above};
  // The likeliest states first: what another belief lacks of them shows at once.
  for (std::uint32_t state = 0; state < belief.size(); ++state) {
    if (belief[state] > 0) point.states.push_back(state);
  }
  std::stable_sort(point.states.begin(), point.states.end(),
                   [&](std::uint32_t a, std::uint32_t b) { return belief[a] > belief[b]; });
  for (const std::uint32_t state : point.states) point.chances.push_back(belief[state] / total);
  // Points that the new one says as much of go.
  std::vector<double> dense(belief.size(), 0.0);
  std::erase_if(here.points, [&](const Point& old) {
    std::fill(dense.begin(), dense.end(), 0.0);
    for (std::size_t at = 0; at < old.states.size(); ++at) dense[old.states[at]] = old.chances[at];
    double share = std::numeric_limits<double>::infinity();
    for (std::size_t at = 0; at < point.states.size(); ++at) {
      share = std::min(share, dense[point.states[at]] / point.chances[at]);
    }
    return share * above >= old.above;
  });
  const auto place = std::find_if(here.points.begin(), here.points.end(),
                                  [&](const Point& old) { return old.above < above; });
  here.points.insert(place, std::move(point));
}

UpperBound::UpperBound(const Process& process) {
  for (const Site& site : process.sites) {
    plans_.emplace_back();
    for (const Choice& choice : site.choices) {
      if (ends(choice)) plans_.back().push_back(choice.minutes);
    }
  }
}

std::size_t UpperBound::best(std::size_t site, BeliefView belief) const {
  std::size_t best = 0;
  double least_cost = std::numeric_limits<double>::infinity();
  for (std::size_t plan = 0; plan < plans_[site].size(); ++plan) {
    const double value = dot(plans_[site][plan], belief);
    if (value >= least_cost) continue;
    least_cost = value;
    best = plan;
  }
  return best;
}

double UpperBound::at(std::size_t site, BeliefView belief) const {
  return dot(plans_[site][best(site, belief)], belief);
}

void UpperBound::add(std::size_t site, std::vector<double> costs) {
  std::erase_if(plans_[site], [&](const std::vector<double>& old) {
    return std::equal(old.begin(), old.end(), costs.begin(), std::greater_equal<>());
  });
  plans_[site].push_back(std::move(costs));
}

}  // namespace whichlink::search
