#include "plan/ahead.h"

#include <algorithm>

#include "flat/process.h"
#include "search/search.h"

namespace whichlink::plan {
namespace {

// Lighter ways of being plugged are not searched (judged: each costs as much as all faults do).
constexpr double kLightestSearched = .01;

// Of the faults that matter to the route, or are heard as it is plugged now.
std::vector<FaultId> likeliest(const moves::Setting& setting, const CaseBelief& belief,
                               const moves::Standing& standing, std::size_t most) {
  std::vector<bool> here = faults_that_matter(setting, standing);
  const chain::Path path = setting.tracer().trace(standing.route, standing.patching).path;
  for (const FaultId fault : setting.faults_on(path, standing.route)) here[fault.value] = true;
  const std::vector<double> present = belief.present_now();
  std::vector<FaultId> faults;
  for (const FaultId fault : setting.faults().ids()) {
    if (here[fault.value] && present[fault.value] > 0) faults.push_back(fault);
  }
  std::stable_sort(faults.begin(), faults.end(),
                   [&](FaultId a, FaultId b) { return present[a.value] > present[b.value]; });
  if (faults.size() > most) faults.resize(most);
  std::sort(faults.begin(), faults.end());
  return faults;
}

flat::Beginning beginning_of(const CaseBelief& belief, const moves::Standing& standing,
                             const std::vector<std::string>& cannot, std::vector<FaultId> faults,
                             const flat::FaultSets& sets) {
  flat::Beginning beginning{standing, belief.listener(), cannot, std::move(faults), {}, {}};
  std::vector<std::uint32_t> numbers;
  for (const FaultId fault : beginning.faults) numbers.push_back(fault.value);
  for (const Hypothesis& one : belief.hypotheses()) {
    if (one.weight < kLightestSearched) continue;
    beginning.real.push_back(one.real);
    beginning.weights.emplace_back();
    for (std::size_t set = 0; set < sets.size(); ++set) {
      beginning.weights.back().push_back(one.weight * one.belief.chance_of(numbers, sets[set]));
    }
  }
  return beginning;
}

}  // namespace

Depth depth_of(double seconds) {
  Depth depth;
  depth.work = static_cast<std::size_t>(seconds * kWorkOfASecond);
  constexpr double kLong = .1;  // judged: from here on more of the case is worth its time
  if (seconds >= kLong) {
    depth.faults = 10;
    depth.standings = 10;
  }
  return depth;
}

std::optional<Ahead> search_ahead(const moves::Setting& setting, const CaseBelief& belief,
                                  const moves::Standing& standing,
                                  const std::vector<std::string>& cannot, const Depth& depth) {
  const flat::Limits limits{depth.faults, 1, depth.standings};
  std::vector<FaultId> faults = likeliest(setting, belief, standing, depth.faults);
  const std::size_t kept = faults.size();
  const flat::FaultSets sets(kept, limits.together);
  const flat::Beginning beginning = beginning_of(belief, standing, cannot, std::move(faults), sets);
  auto process = flat::process_from(setting, beginning, limits);
  if (!process) return std::nullopt;
  const search::Process numbers = process->numbers();
  search::Search search(numbers);
  search.refine(0, depth.work);
  const search::Answer answer = search.answer();

  Ahead ahead{answer.lower, answer.upper, {}, kept, process->grounds.standings.size(), 0};
  const auto& moves = process->grounds.moves.front();
  if (answer.choice < moves.size()) ahead.move = moves[answer.choice].move;
  double wrong = 0;
  for (std::size_t way = 0; way < beginning.real.size(); ++way) {
    const bool crossed = !(beginning.real[way].plug_in == standing.patching.plug_in);
    for (std::size_t set = 0; set < sets.size(); ++set) {
      const bool sound = std::all_of(sets[set].begin(), sets[set].end(),
                                     [](belief::State state) { return state == belief::kAbsent; });
      if (crossed || !sound) wrong += beginning.weights[way][set];
    }
  }
  const double something_wrong = belief.something_wrong(standing);
  ahead.kept = something_wrong > 0 ? std::min(1.0, wrong / something_wrong) : 1;
  return ahead;
}

}  // namespace whichlink::plan
