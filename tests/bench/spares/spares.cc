// Spares for many sites: the demand for each part, its losses, the curve of all budgets, and the
// best list for one.

#include "upkeep/spares.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "bench/measure.h"
#include "upkeep/base_stock.h"
#include "upkeep/budget.h"

namespace {

using namespace whichlink;
using namespace whichlink::upkeep;
using bench::seconds_of;
using bench::time_text;

constexpr std::size_t kParts = 200;
constexpr std::size_t kSites = 1000;
constexpr std::size_t kRivalParts = 10;
constexpr double kYears = .25;
constexpr std::size_t kMostStates = 10000000;

struct Part {
  std::vector<Stream> streams;  ///< one a site
  double price;                 ///< whole, so that a rival can count money
  double lacking;
};

// Invented numbers: each site has its own belief and its own count of items.
std::vector<Part> random_parts() {
  Random random(20240901);
  std::vector<Part> parts(kParts);
  for (Part& part : parts) {
    const double rate = between(random, .002, .2);
    for (std::size_t site = 0; site < kSites; ++site) {
      const double shape = between(random, .3, 20);
      part.streams.push_back({Gamma{shape, shape / (rate * between(random, .3, 3))},
                              (1 + random.below(6)) * random.uniform()});
    }
    part.price = 2 + random.below(60);
    part.lacking = between(random, 20, 2000);
  }
  return parts;
}

Choice choice_of(const Part& part, const Demand& demand) {
  Choice choice;
  choice.price = part.price;
  const std::size_t most = demand.least_for(1 - 1e-9);
  for (std::size_t held = 0; held <= most; ++held)
    choice.lost.push_back(part.lacking * demand.expected_short(held));
  return choice;
}

std::vector<Choice> choices_of(const std::vector<Part>& parts) {
  std::vector<Choice> choices;
  choices.reserve(parts.size());
  for (const Part& part : parts) choices.push_back(choice_of(part, Demand(part.streams, kYears)));
  return choices;
}

/// Losses by folding the sites in one by one, each with the library's chances.
std::vector<double> folded(const Part& part, std::size_t last) {
  const std::vector<double> chance = convolved(part.streams, kYears, last);
  std::vector<double> lost(last + 1);
  double more = 0;
  for (std::size_t held = last; held > 0; --held) {
    more += chance[held];
    lost[held - 1] = lost[held] + part.lacking * more;
  }
  return lost;
}

/// The least loss for a whole budget, by a table over every sum of money.
double by_money(const std::vector<Choice>& choices, std::size_t budget) {
  std::vector<double> least(budget + 1, 0);
  for (const Choice& choice : choices) {
    const auto price = static_cast<std::size_t>(choice.price);
    std::vector<double> next(budget + 1, std::numeric_limits<double>::infinity());
    for (std::size_t money = 0; money <= budget; ++money) {
      for (std::size_t held = 0; held < choice.lost.size() && held * price <= money; ++held)
        next[money] = std::min(next[money], least[money - held * price] + choice.lost[held]);
    }
    least = next;
  }
  return least[budget];
}

void row(const std::string& name, double seconds, double ours) {
  fmt::print("{:56} {:>11} {:11.2f}\n", name, time_text(seconds), seconds / ours);
}

void demand_and_curve(const std::vector<Part>& parts) {
  const std::vector<Part> few(parts.begin(), parts.begin() + kRivalParts);
  double worst = 0;
  std::vector<std::size_t> lasts;
  for (const Part& part : few) {
    const Demand demand(part.streams, kYears);
    lasts.push_back(demand.most());
    const std::vector<double> lost = folded(part, demand.most());
    for (std::size_t held = 0; held < demand.least_for(1 - 1e-9); ++held)
      worst =
          std::max(worst, std::abs(part.lacking * demand.expected_short(held) / lost[held] - 1));
  }
  bench::must_agree("demand over the sites", worst, 1e-9);

  const double whole = seconds_of([&] { (void)marginal_curve(choices_of(parts)); }, 5);
  const double ours = seconds_of([&] { (void)choices_of(few); }, 5);
  const double rival = seconds_of(
      [&] {
        for (std::size_t part = 0; part < few.size(); ++part) (void)folded(few[part], lasts[part]);
      },
      3);
  const std::vector<Choice> choices = choices_of(parts);
  const double curve = seconds_of([&] { (void)marginal_curve(choices); });
  fmt::print("spares: {} parts, {} sites, {} steps of the curve; target 2 s\n", kParts, kSites,
             marginal_curve(choices).size());
  fmt::print("{:56} {:>11} {:>11}\n", "", "median", "ratio");
  row("ours: all demands, losses and the curve", whole, whole);
  row("  of it, the curve", curve, whole);
  row(fmt::format("ours: demands and losses of {} parts", kRivalParts), ours, ours);
  row("rival: the same, sites folded in one by one", rival, ours);
}

void one_budget(const std::vector<Part>& parts) {
  const std::vector<Choice> choices = choices_of(parts);
  const std::vector<Step> curve = marginal_curve(choices);
  for (const std::size_t tenths : {3U, 6U, 9U}) {
    // Just short of a point of the curve, where the curve itself would be the answer.
    const double budget = std::floor(curve[curve.size() * tenths / 10].money) - 1;
    const auto exact = exact_list(choices, budget, kMostStates);
    if (!exact) bench::stop("spares: too many lists");
    const double table = by_money(choices, static_cast<std::size_t>(budget));
    bench::must_agree("list for a budget", std::abs(exact->lost / table - 1), 1e-9);
    const double ours = seconds_of([&] { (void)exact_list(choices, budget, kMostStates); }, 3);
    const double greedy = seconds_of([&] { (void)greedy_list(choices, budget); }, 3);
    const double rival =
        seconds_of([&] { (void)by_money(choices, static_cast<std::size_t>(budget)); }, 1);
    fmt::print("budget {:.0f}: least {:.6f}, best {:.6f}, greedy {:.6f}\n", budget,
               least_possible(choices, budget), exact->lost, greedy_list(choices, budget).lost);
    row("  ours: exact_list", ours, ours);
    row("  ours: greedy_list", greedy, ours);
    row("  rival: a table over every sum of money", rival, ours);
  }
}

}  // namespace

int main() {
  const std::vector<Part> parts = random_parts();
  demand_and_curve(parts);
  one_budget(parts);
}
