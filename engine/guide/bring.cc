#include "guide/bring.h"

#include <algorithm>

#include "moves/standing.h"

namespace whichlink::guide {
namespace {

bool has_spare(const moves::Setting& setting, PartKindId kind,
               const std::vector<moves::Substitute>& in) {
  const chain::Chain& chain = setting.chain();
  for (const PartId id : chain.parts.ids()) {
    const chain::Part& part = chain.parts[id];
    if (!part.spare || part.kind != kind) continue;
    const bool used = std::any_of(in.begin(), in.end(),
                                  [&](const moves::Substitute& one) { return one.in == id; });
    const auto& states = setting.rules().spare_states;
    const auto state = std::find_if(states.begin(), states.end(),
                                    [&](const auto& one) { return one.name == part.spare_state; });
    if (!used && state != states.end() && state->is_spare) return true;
  }
  return false;
}

}  // namespace

std::vector<PartInDoubt> parts_in_doubt(const Case& one, double least) {
  const moves::Setting& setting = one.setting();
  const chain::Chain& chain = setting.chain();
  const RouteId route = one.standing().route;
  const auto& in = one.standing().substituted;
  std::vector<PartId> parts =
      moves::parts_of(chain, setting.tracer().trace(route, chain.home).path);
  for (const moves::Substitute& swap : in) {
    std::replace(parts.begin(), parts.end(), swap.out, swap.in);
  }
  std::vector<PartInDoubt> all;
  for (const PartId part : parts) {
    const double chance = one.belief().any_now(plan::faults_in(setting, part));
    if (chance < least) continue;
    const PartKindId kind = chain.parts[part].kind;
    all.push_back({part, chance, setting.rules().part_kinds[kind].exchangeable,
                   has_spare(setting, kind, in)});
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const PartInDoubt& a, const PartInDoubt& b) { return a.chance > b.chance; });
  return all;
}

}  // namespace whichlink::guide
