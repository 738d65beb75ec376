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
  const moves::Standing put_back = all_put_back(setting, standing);
  const std::vector<bool> mask = faults_that_matter(setting, put_back);
  std::map<std::uint32_t, std::vector<std::size_t>> parts;
  for (const FaultId fault : setting.faults().ids()) {
    if (!mask[fault.value]) continue;
    const std::optional<ElementId> element = setting.faults()[fault].element;
    const std::uint32_t key = element ? setting.chain().elements[*element].part.value
                                      : static_cast<std::uint32_t>(setting.chain().parts.size());
    parts[key].push_back(matters_.size());
    matters_.push_back(fault.value);
  }
  for (const auto& [key, places] : parts) {
    by_part_.insert(by_part_.end(), places.begin(), places.end());
    part_end_.push_back(by_part_.size());
  }
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
    least_repair_ = std::min(least_repair_, repair.minutes);
    repairs_.push_back(std::move(repair));
  }
}

std::vector<double> Outlook::of_matters(const std::vector<double>& by_fault) const {
  std::vector<double> chances;
  chances.reserve(matters_.size());
  for (const std::uint32_t fault : matters_) chances.push_back(by_fault[fault]);
  return chances;
}

Outlook::Share Outlook::share_of(const State& state) {
  Share share;
  double total = state.crossed;
  for (const double present : state.present) total += present;
  share.by_fault = state.present;
  if (total <= 0) return share;
  for (double& one : share.by_fault) one /= total;
  share.crossed = state.crossed / total;
  return share;
}

double Outlook::visits(const Share& share) const {
  double total = share.crossed;
  for (const double chance : share.by_fault) total += chance;
  if (total <= 0) return 1;
  double likeliest = share.crossed;
  std::size_t at = 0;
  for (const std::size_t end : part_end_) {
    double of_part = 0;
    for (; at < end; ++at) of_part += share.by_fault[by_part_[at]];
    likeliest = std::max(likeliest, of_part);
  }
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

Outlook::Order Outlook::by_chance_over_cost(const Share& share) const {
  Order order;
  order.reserve(repairs_.size());
  for (std::size_t index = 0; index < repairs_.size(); ++index) {
    const double mass = cured_by(repairs_[index], share);
    if (mass > 0) order.emplace_back(-mass / repairs_[index].minutes, index);
  }
  std::sort(order.begin(), order.end());
  return order;
}

// Something is wrong and heard: after each repair it is known whether it still is.
double Outlook::repairing(Share share, const Order& order, double closing_minutes) const {
  const auto way_out = [&] {
    return std::min(prices_.miss_minutes, prices_.service_minutes * visits(share));
  };
  const double least_way_out = std::min(prices_.miss_minutes, prices_.service_minutes);
  double wrong = 1;
  double spent = 0;
  double best = way_out();
  for (const auto& [negative_ratio, index] : order) {
    const Repair& repair = repairs_[index];
    spent += repair.minutes * wrong;
    if (spent >= best) break;
    wrong = std::max(0.0, wrong - cured_by(repair, share));
    take_out(repair, share);
    const double closed = spent + (1 - wrong) * closing_minutes;
    if (closed + wrong * least_way_out >= best) continue;  // however many visits
    best = std::min(best, closed + wrong * way_out());
  }
  return best;
}

// Nothing is heard: every repair is paid in full, and what is left is left in.
double Outlook::repairing_unheard(Share share, const Order& order, double wrong) const {
  double left = 1;
  double spent = 0;
  double best = prices_.miss_minutes * wrong;
  for (const auto& [negative_ratio, index] : order) {
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
double Outlook::looking(double wrong, double repairing) const {
  return look_minutes_ +
         wrong * (kChanceStressShows * repairing + (1 - kChanceStressShows) * prices_.miss_minutes);
}

double Outlook::close_minutes(const State& state) const {
  return prices_.miss_minutes * state.something_wrong;
}

double Outlook::service_minutes(const State& state) const {
  return prices_.service_minutes * visits(share_of(state));
}

double Outlook::minutes(const State& state, double closing_minutes) const {
  if (state.something_wrong <= 0) return 0;
  const double wrong = state.something_wrong;
  const double closing_now = close_minutes(state);
  // Nothing is cheaper than that: neither a repair nor a look, and service is a visit at least.
  const bool is_closed = !state.heard_wrong && closing_now <= prices_.service_minutes &&
                         closing_now <= least_repair_ && closing_now <= looking(wrong, 0);
  if (is_closed) return closing_now;
  const Share share = share_of(state);
  const double way_out = closing_now <= prices_.service_minutes
                             ? closing_now
                             : std::min(closing_now, prices_.service_minutes * visits(share));
  const Order order = by_chance_over_cost(share);
  std::optional<double> heard;
  if (state.heard_wrong) heard = repairing(share, order, closing_minutes);
  double unheard = std::min(way_out, repairing_unheard(share, order, wrong));
  if (looking(wrong, 0) < unheard) {
    if (!heard) heard = repairing(share, order, closing_minutes);
    unheard = std::min(unheard, looking(wrong, *heard));
  }
  if (!state.heard_wrong) return unheard;
  // What was heard may have been a slip while all is sound; then things stand as if it were quiet.
  return std::min(way_out, wrong * *heard + (1 - wrong) * unheard);
}

}  // namespace whichlink::plan
