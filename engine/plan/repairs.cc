#include "plan/repairs.h"

#include <algorithm>
#include <numeric>

#include "moves/standing.h"

namespace whichlink::plan {
namespace {

double chance_part_is_bad(const moves::Setting& setting, PartId part) {
  double sound = 1;
  for (const ElementId element : setting.chain().parts[part].elements) {
    for (const FaultId fault : setting.faults_of(element)) {
      sound *= setting.network().prior[fault.value][belief::kAbsent];
    }
  }
  return 1 - sound;
}

}  // namespace

std::vector<Repair> repairs_for(const moves::Setting& setting, const moves::Standing& standing) {
  moves::Standing put_back = standing;
  put_back.patching = settled(setting, standing);
  put_back.temporary.reset();
  std::vector<Repair> repairs;
  for (const moves::Move& move : moves::derive_moves(setting, put_back)) {
    Repair repair;
    repair.minutes = move.minutes;
    if (std::holds_alternative<moves::Treat>(move.action)) {
      const belief::Question question =
          moves::question_of(setting, put_back, move, put_back.patching, 0);
      for (const belief::Transition& one : question.transitions) {
        const double chance = one.matrix[belief::kShowing][belief::kAbsent];
        if (chance > 0) repair.cures.emplace_back(one.fault, chance);
      }
    } else if (const auto* swap = std::get_if<moves::Substitute>(&move.action)) {
      const chain::Part& out = setting.chain().parts[swap->out];
      if (!setting.chain().parts[swap->in].spare) continue;
      repair.minutes += setting.rules().part_kinds[out.kind].price_minutes;
      const double chance = 1 - chance_part_is_bad(setting, swap->in);
      for (const ElementId element : out.elements) {
        for (const FaultId fault : setting.faults_of(element)) {
          repair.cures.emplace_back(fault.value, chance);
        }
      }
    } else if (std::holds_alternative<moves::TraceLabels>(move.action)) {
      repair.uncrosses = true;
    } else {
      continue;
    }
    repairs.push_back(std::move(repair));
  }
  return repairs;
}

double minutes_to_go(const std::vector<Repair>& repairs, const std::vector<bool>& matters,
                     const std::vector<double>& present, double crossed, double something_wrong,
                     const faults::Prices& prices) {
  double total = crossed;
  for (std::size_t fault = 0; fault < present.size(); ++fault) {
    if (matters[fault]) total += present[fault];
  }
  const double way_out = std::min(prices.miss_minutes, prices.service_minutes);
  if (total <= 0) return 0;
  const double scale = something_wrong / total;
  std::vector<double> share(present.size(), 0.0);
  for (std::size_t fault = 0; fault < present.size(); ++fault) {
    if (matters[fault]) share[fault] = scale * present[fault];
  }
  double crossed_share = scale * crossed;

  const auto cured_by = [&](const Repair& repair) {
    double mass = repair.uncrosses ? crossed_share : 0;
    for (const auto& [fault, chance] : repair.cures) mass += chance * share[fault];
    return mass;
  };
  std::vector<std::pair<double, std::size_t>> order;
  for (std::size_t index = 0; index < repairs.size(); ++index) {
    order.emplace_back(-cured_by(repairs[index]) / repairs[index].minutes, index);
  }
  std::sort(order.begin(), order.end());

  double wrong = something_wrong;
  double spent = 0;
  double best = wrong * way_out;
  for (const auto& [negative_ratio, index] : order) {
    const Repair& repair = repairs[index];
    const double mass = cured_by(repair);
    if (mass * way_out <= repair.minutes * wrong * 1e-3) continue;  // cannot pay
    spent += repair.minutes * wrong;
    wrong = std::max(0.0, wrong - mass);
    for (const auto& [fault, chance] : repair.cures) share[fault] *= 1 - chance;
    if (repair.uncrosses) crossed_share = 0;
    best = std::min(best, spent + wrong * way_out);
  }
  return best;
}

}  // namespace whichlink::plan
