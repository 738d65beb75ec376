#include "search/process.h"

#include <algorithm>
#include <numeric>

namespace whichlink::search {

Left::Left(const Process& process, std::size_t site, BeliefView belief, std::size_t number)
    : site_(process.sites[site].choices[number].to), states_(process.sites[site_].states) {
  const Choice& choice = process.sites[site].choices[number];
  chances_.assign(choice.observations * states_, 0.0);
  masses_.assign(choice.observations, 0.0);
  for (std::size_t state = 0; state < belief.size(); ++state) {
    if (belief[state] == 0) continue;
    for (const Arc& arc : choice.arcs[state]) {
      const double chance = belief[state] * arc.chance;
      chances_[arc.observation * states_ + arc.to] += chance;
      masses_[arc.observation] += chance;
    }
  }
}

double cost(const Choice& choice, BeliefView belief) {
  return std::inner_product(belief.begin(), belief.end(), choice.minutes.begin(), 0.0);
}

bool ends(const Choice& choice) {
  return std::all_of(choice.arcs.begin(), choice.arcs.end(),
                     [](const auto& arcs) { return arcs.empty(); });
}

double mass(BeliefView belief) {
  return std::accumulate(belief.begin(), belief.end(), 0.0);
}

}  // namespace whichlink::search
