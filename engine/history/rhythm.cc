#include "history/rhythm.h"

#include <algorithm>
#include <cmath>

#include "base/moment.h"

namespace whichlink::history {
namespace {

constexpr double kDaysPerWeek = 7;
constexpr double kMonthsPerYear = 12;
// What every session notices is a hazard without bound; so near to it makes no difference, for a
// day of use is over in a thousandth of itself (judged).
constexpr double kMostNoticed = 1 - 1e-9;
// From one check a day of use to one in a year.
constexpr double kShortest = 1;
constexpr int kCurvePoints = 60;

// Chance that a session that uses the faulty route has the fault show, and that somebody looks for
// it.
struct InUse {
  double shows = 0;
  double noticed = 0;
};

InUse in_use(const moves::Setting& setting, FaultId fault, SenseId sense) {
  const faults::Rules& rules = setting.rules();
  const std::optional<ModeId> mode = setting.faults()[fault].mode;
  const double shows = mode ? rules.modes[*mode].chance_shows : rules.unlisted.chance_shows;
  const std::vector<double>& symptoms =
      mode ? rules.modes[*mode].symptom_chance[sense] : rules.unlisted.symptom_chance[sense];
  const std::vector<double>& noticed = setting.installation().use->noticed[sense];
  InUse use;
  for (std::size_t severity = 1; severity < symptoms.size(); ++severity) {
    use.shows += shows * symptoms[severity];
    use.noticed += shows * symptoms[severity] * noticed[severity];
  }
  return use;
}

}  // namespace

std::vector<upkeep::Unrevealed> unrevealed_faults(const moves::Setting& setting,
                                                  const FoundOnRoute& found_on_route) {
  const faults::Use& use = *setting.installation().use;
  const chain::Chain& chain = setting.chain();
  IdVector<FaultId, upkeep::Unrevealed> found;
  found.resize(setting.faults().size());
  for (upkeep::Unrevealed& one : found) one.chance_found = 0;
  // A fault on several routes is used as often as the busiest of them, and noticed there.
  for (const RouteId route : chain.routes.ids()) {
    const SignalId signal = chain.routes[route].signal;
    const double sessions = use.sessions_per_day * use.share_of_sessions[signal];
    const chain::Path path = setting.tracer().trace(route, chain.home).path;
    for (const FaultId fault : setting.faults_on(path, route)) {
      const InUse each = in_use(setting, fault, setting.rules().signals[signal].sense);
      upkeep::Unrevealed& one = found[fault];
      one.rate_per_day = setting.rate_per_year(fault) / use.days_per_year;
      one.cost_per_day = std::max(one.cost_per_day, sessions * each.shows * use.spoilt_minutes);
      one.chance_found = std::max(one.chance_found, found_on_route(fault, route));
      // Each session is a new chance to notice, so none gets by after many: a hazard.
      one.noticed_per_day = std::max(one.noticed_per_day,
                                     -sessions * std::log1p(-std::min(each.noticed, kMostNoticed)));
    }
  }
  std::vector<upkeep::Unrevealed> all;
  for (const FaultId fault : setting.faults().ids()) {
    if (found[fault].rate_per_day > 0) all.push_back(found[fault]);
  }
  return all;
}

RhythmCost cost_of(const faults::Use& use, const std::vector<upkeep::Unrevealed>& faults,
                   double check_minutes, double days) {
  RhythmCost cost;
  cost.days = days;
  cost.checks_per_year = use.days_per_year / days;
  cost.check_minutes = cost.checks_per_year * check_minutes;
  double rates = 0;
  double delays = 0;
  for (const upkeep::Unrevealed& fault : faults) {
    const double delay = upkeep::undetected_days(fault, days);
    cost.spoilt_minutes +=
        use.days_per_year * fault.cost_per_day * upkeep::undetected_share(fault, days);
    rates += fault.rate_per_day;
    delays += fault.rate_per_day * delay;
  }
  cost.spoilt_sessions = use.spoilt_minutes > 0 ? cost.spoilt_minutes / use.spoilt_minutes : 0;
  cost.days_undetected = rates > 0 ? delays / rates : 0;
  return cost;
}

std::vector<std::pair<std::string, double>> named_intervals(const faults::Use& use) {
  return {{"each day of use", 1},
          {"weekly", std::max(1.0, use.days_per_year / (kDaysPerYear / kDaysPerWeek))},
          {"monthly", std::max(1.0, use.days_per_year / kMonthsPerYear)}};
}

Rhythm rhythm_of(const moves::Setting& setting, const std::vector<upkeep::Unrevealed>& faults,
                 double check_minutes) {
  const faults::Use& use = *setting.installation().use;
  Rhythm rhythm;
  rhythm.check_minutes = check_minutes;
  for (const upkeep::Unrevealed& fault : faults) {
    rhythm.faults_per_year += fault.rate_per_day * use.days_per_year;
  }
  const double longest = std::max(kShortest, use.days_per_year);
  const double best = upkeep::cheapest_interval(check_minutes, faults, kShortest, longest).days;
  rhythm.cheapest = cost_of(use, faults, check_minutes, best);
  for (const auto& [name, days] : named_intervals(use)) {
    rhythm.named.push_back(cost_of(use, faults, check_minutes, days));
  }
  for (int point = 0; point <= kCurvePoints; ++point) {
    const double days = kShortest * std::pow(longest / kShortest, point / double{kCurvePoints});
    rhythm.curve.push_back(cost_of(use, faults, check_minutes, days));
  }
  return rhythm;
}

}  // namespace whichlink::history
