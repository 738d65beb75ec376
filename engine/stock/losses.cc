#include "stock/losses.h"

#include <algorithm>
#include <optional>
#include <set>

#include "moves/standing.h"

namespace whichlink::stock {
namespace {

bool holds(const std::vector<SignalId>& signals, SignalId signal) {
  return std::find(signals.begin(), signals.end(), signal) != signals.end();
}

std::vector<SignalId> signals_through(const moves::Setting& setting, PartId part) {
  std::set<SignalId> signals;
  for (const RouteId route : setting.chain().routes.ids()) {
    const chain::Path path = setting.tracer().trace(route, setting.chain().home).path;
    const std::vector<PartId> parts = moves::parts_of(setting.chain(), path);
    if (std::find(parts.begin(), parts.end(), part) == parts.end()) continue;
    signals.insert(setting.chain().routes[route].signal);
  }
  return {signals.begin(), signals.end()};
}

}  // namespace

std::vector<SignalId> signals_of(const chain::Chain& chain) {
  std::set<SignalId> signals;
  for (const chain::Route& route : chain.routes) signals.insert(route.signal);
  return {signals.begin(), signals.end()};
}

double sessions_lost_per_day(const moves::Setting& setting, const std::vector<SignalId>& out) {
  const faults::Stores& stores = *setting.rules().stores;
  const faults::Use& use = *setting.installation().use;
  const std::vector<SignalId> present = signals_of(setting.chain());
  double all_go_on = 1;
  for (const SignalId signal : out) {
    double goes_on = stores.goes_on[signal];
    for (const auto& [other, share] : stores.stands_in[signal]) {
      if (holds(present, other) && !holds(out, other)) goes_on = std::max(goes_on, share);
    }
    all_go_on *= 1 - use.share_of_sessions[signal] * (1 - goes_on);
  }
  return use.sessions_per_day * (1 - all_go_on);
}

double sessions_lost_per_day(const moves::Setting& setting, PartKindId kind) {
  std::optional<double> least;
  const chain::Chain& chain = setting.chain();
  for (const PartId part : chain.parts.ids()) {
    if (chain.parts[part].kind != kind || chain.parts[part].spare) continue;
    const double lost = sessions_lost_per_day(setting, signals_through(setting, part));
    least = std::min(least.value_or(lost), lost);
  }
  return least.value_or(0);
}

}  // namespace whichlink::stock
