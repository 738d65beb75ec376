#include "plan/outlook.h"

#include <algorithm>
#include <map>

namespace whichlink::plan {
namespace {

// How often stressing a whole route brings out a fault that is there (judged: .80 to .85 are found
// by flexing and twisting where the fault is, and some faults take no notice of it).
constexpr double kChanceStressShows = 0.75;

double chance_part_is_sound(const moves::Setting& setting, PartId part) {
  double sound = 1;
  for (const ElementId element : setting.chain().parts[part].elements) {
    for (const FaultId fault : setting.faults_of(element)) {
      sound *= setting.network().prior[fault.value][belief::kAbsent];
    }
  }
  return sound;
}

}  // namespace

Outlook::Outlook(const moves::Setting& setting, const moves::Standing& standing,
                 std::optional<double> minutes_each)
    : prices_(setting.installation().prices), minutes_each_(minutes_each) {
  moves::Standing put_back = standing;
  put_back.patching = settled(setting, standing);
  put_back.temporary.reset();
  put_back.place = setting.installation().start;
  const std::vector<bool> mask = faults_that_matter(setting, put_back);
  std::map<std::uint32_t, std::size_t> part_numbers;
  for (const FaultId fault : setting.faults().ids()) {
    if (!mask[fault.value]) continue;
    matters_.push_back(fault.value);
    const std::optional<ElementId> element = setting.faults()[fault].element;
    const std::uint32_t key = element ? setting.chain().elements[*element].part.value
                                      : static_cast<std::uint32_t>(setting.chain().parts.size());
    part_.push_back(part_numbers.emplace(key, part_numbers.size()).first->second);
  }
  parts_ = part_numbers.size();
  list_repairs(setting, put_back);
}

void Outlook::add_cure(Repair& repair, std::uint32_t fault, double chance) const {
  const auto found = std::lower_bound(matters_.begin(), matters_.end(), fault);
  if (found == matters_.end() || *found != fault || chance <= 0) return;
  repair.cures.emplace_back(static_cast<std::uint32_t>(found - matters_.begin()), chance);
}

void Outlook::list_repairs(const moves::Setting& setting, const moves::Standing& put_back) {
  for (const moves::Move& move : moves::derive_moves(setting, put_back)) {
    if (std::holds_alternative<moves::StressRoute>(move.action) ||
        (look_minutes_ == 0 && std::holds_alternative<moves::Listen>(move.action))) {
      look_minutes_ = minutes_each_.value_or(move.minutes);
    }
    Repair repair;
    repair.minutes = minutes_each_.value_or(move.minutes);
    if (std::holds_alternative<moves::Treat>(move.action)) {
      const belief::Question question =
          moves::question_of(setting, put_back, move, put_back.patching, 0);
      for (const belief::Transition& one : question.transitions) {
        add_cure(repair, one.fault, one.matrix[belief::kShowing][belief::kAbsent]);
      }
    } else if (const auto* swap = std::get_if<moves::Substitute>(&move.action)) {
      const chain::Part& out = setting.chain().parts[swap->out];
      if (!setting.chain().parts[swap->in].spare) continue;
      repair.minutes += setting.rules().part_kinds[out.kind].price_minutes;
      const double chance = chance_part_is_sound(setting, swap->in);
      for (const ElementId element : out.elements) {
        for (const FaultId fault : setting.faults_of(element)) {
          add_cure(repair, fault.value, chance);
        }
      }
    } else if (std::holds_alternative<moves::TraceLabels>(move.action)) {
      repair.uncrosses = true;
    } else {
      continue;
    }
    repairs_.push_back(std::move(repair));
  }
}

Outlook::Share Outlook::share_of(const State& state) const {
  Share share;
  share.by_fault.reserve(matters_.size());
  double total = state.crossed;
  for (const std::uint32_t fault : matters_) {
    share.by_fault.push_back(state.present[fault]);
    total += state.present[fault];
  }
  if (total <= 0) return share;
  for (double& one : share.by_fault) one /= total;
  share.crossed = state.crossed / total;
  return share;
}

double Outlook::visits(const Share& share) const {
  std::vector<double> by_part(parts_, 0.0);
  double total = share.crossed;
  for (std::size_t index = 0; index < matters_.size(); ++index) {
    by_part[part_[index]] += share.by_fault[index];
    total += share.by_fault[index];
  }
  if (total <= 0) return 1;
  const double likeliest = std::max(
      share.crossed, by_part.empty() ? 0 : *std::max_element(by_part.begin(), by_part.end()));
  return 2 - likeliest / total;
}

double Outlook::cured_by(const Repair& repair, const Share& share) {
  double mass = repair.uncrosses ? share.crossed : 0;
  for (const auto& [index, chance] : repair.cures) mass += chance * share.by_fault[index];
  return mass;
}

void Outlook::take_out(const Repair& repair, Share& share) {
  for (const auto& [index, chance] : repair.cures) share.by_fault[index] *= 1 - chance;
  if (repair.uncrosses) share.crossed = 0;
}

std::vector<std::pair<double, std::size_t>> Outlook::by_chance_over_cost(const Share& share) const {
  std::vector<std::pair<double, std::size_t>> order;
  order.reserve(repairs_.size());
  for (std::size_t index = 0; index < repairs_.size(); ++index) {
    const double mass = cured_by(repairs_[index], share);
    if (mass > 0) order.emplace_back(-mass / repairs_[index].minutes, index);
  }
  std::sort(order.begin(), order.end());
  return order;
}

// Something is wrong and heard: after each repair it is known whether it still is.
double Outlook::repairing(Share share, double closing_minutes) const {
  const auto way_out = [&] {
    return std::min(prices_.miss_minutes, prices_.service_minutes * visits(share));
  };
  double wrong = 1;
  double spent = 0;
  double best = way_out();
  for (const auto& [negative_ratio, index] : by_chance_over_cost(share)) {
    const Repair& repair = repairs_[index];
    spent += repair.minutes * wrong;
    if (spent >= best) break;
    wrong = std::max(0.0, wrong - cured_by(repair, share));
    take_out(repair, share);
    best = std::min(best, spent + (1 - wrong) * closing_minutes + wrong * way_out());
  }
  return best;
}

// Nothing is heard: every repair is paid in full, and what is left is left in.
double Outlook::repairing_unheard(Share share, double wrong) const {
  double left = 1;
  double spent = 0;
  double best = prices_.miss_minutes * wrong;
  for (const auto& [negative_ratio, index] : by_chance_over_cost(share)) {
    const Repair& repair = repairs_[index];
    spent += repair.minutes;
    if (spent >= best) break;
    left = std::max(0.0, left - cured_by(repair, share));
    take_out(repair, share);
    best = std::min(best, spent + prices_.miss_minutes * wrong * left);
  }
  return best;
}

// Nothing is heard: the whole route is stressed, and what does not show is left in.
double Outlook::looking(const Share& share, double wrong, double closing_minutes) const {
  return look_minutes_ + wrong * (kChanceStressShows * repairing(share, closing_minutes) +
                                  (1 - kChanceStressShows) * prices_.miss_minutes);
}

double Outlook::close_minutes(const State& state) const {
  return prices_.miss_minutes * state.something_wrong;
}

double Outlook::service_minutes(const State& state) const {
  return prices_.service_minutes * visits(share_of(state));
}

double Outlook::minutes(const State& state, double closing_minutes) const {
  if (state.something_wrong <= 0) return 0;
  const double way_out = std::min(close_minutes(state), service_minutes(state));
  const Share share = share_of(state);
  const double unheard = std::min({way_out, repairing_unheard(share, state.something_wrong),
                                   looking(share, state.something_wrong, closing_minutes)});
  if (!state.heard_wrong) return unheard;
  // What was heard may have been a slip while all is sound; then things stand as if it were quiet.
  return std::min(way_out, state.something_wrong * repairing(share, closing_minutes) +
                               (1 - state.something_wrong) * unheard);
}

}  // namespace whichlink::plan
