#include "history/learned.h"

#include <algorithm>
#include <map>

#include "history/closing.h"
#include "moves/arrangement.h"

namespace whichlink::history {
namespace {

constexpr double kLow = .05;
constexpr double kMiddle = .5;
constexpr double kHigh = .95;

std::map<std::uint32_t, std::size_t> items_by_mode(const moves::Setting& setting) {
  std::map<std::uint32_t, std::size_t> items;
  const chain::Chain& chain = setting.chain();
  for (const FaultId fault : setting.faults().ids()) {
    const moves::Fault& one = setting.faults()[fault];
    if (!one.mode || chain.parts[chain.elements[*one.element].part].spare) continue;
    ++items[one.mode->value];
  }
  return items;
}

// Each pair of plugs once, though both routes of the pair know of it.
std::size_t pairs_of_plugs(const moves::Setting& setting) {
  std::size_t pairs = 0;
  for (const RouteId route : setting.chain().routes.ids()) {
    const std::optional<RouteId> other = setting.chain().routes[route].pair;
    if (!other || other->value < route.value) continue;
    pairs += moves::arrangements_of(setting, route).size() - 1;
  }
  return pairs;
}

LearnedRate learned(const std::string& name, const faults::Rate& prior, std::size_t items,
                    double years, const std::vector<record::ModeCount>& counts) {
  LearnedRate rate;
  rate.name = name;
  rate.prior = prior;
  rate.items = items;
  rate.item_years = static_cast<double>(items) * years;
  for (const record::ModeCount& count : counts) {
    if (count.mode != name) continue;
    rate.faults = count.faults;
    rate.cases = count.cases;
  }
  rate.before = gamma_of(prior);
  rate.after = rate.before.updated(rate.faults, rate.item_years);
  return rate;
}

}  // namespace

upkeep::Gamma gamma_of(const faults::Rate& judged) {
  // Limits that coincide, or begin at nothing, are as narrow or as wide as any that can be judged.
  constexpr double kWidest = 1e6;
  constexpr double kNarrowest = 1.0001;
  const double low = std::max(judged.low_per_year, judged.mid_per_year / kWidest);
  return upkeep::gamma_from(low, judged.mid_per_year,
                            std::max(judged.high_per_year, low * kNarrowest));
}

std::vector<LearnedRate> learned_rates(const moves::Installation& installation,
                                       const std::vector<record::ModeCount>& counts, double years) {
  const moves::Setting setting(installation, 0);
  const faults::Rules& rules = installation.rules;
  std::vector<LearnedRate> rates;
  auto items = items_by_mode(setting);
  for (const ModeId mode : rules.modes.ids()) {
    if (items[mode.value] == 0 || rules.modes[mode].rate.mid_per_year <= 0) continue;
    rates.push_back(
        learned(mode_name(rules, mode), rules.modes[mode].rate, items[mode.value], years, counts));
    rates.back().mode = mode;
  }
  if (rules.crossing && rules.crossing->rate.mid_per_year > 0) {
    const std::size_t pairs = pairs_of_plugs(setting);
    if (pairs > 0) rates.push_back(learned(kCrossed, rules.crossing->rate, pairs, years, counts));
  }
  if (rules.unlisted.rate.mid_per_year > 0) {
    rates.push_back(
        learned(kNotListed, rules.unlisted.rate, setting.chain().routes.size(), years, counts));
  }
  return rates;
}

moves::Installation with_learned(moves::Installation installation,
                                 const std::vector<LearnedRate>& rates) {
  faults::Rules& rules = installation.rules;
  for (const LearnedRate& one : rates) {
    if (one.item_years <= 0) continue;
    faults::Rate& rate = one.mode               ? rules.modes[*one.mode].rate
                         : one.name == kCrossed ? rules.crossing->rate
                                                : rules.unlisted.rate;
    rate = {one.after.quantile(kLow), one.after.quantile(kMiddle), one.after.quantile(kHigh),
            "learned from the record; before: " + rate.source};
  }
  return installation;
}

}  // namespace whichlink::history
