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
  part_of_.resize(matters_.size());
  for (const auto& [key, places] : parts) {
    for (const std::size_t place : places) part_of_[place] = part_end_.size();
    by_part_.insert(by_part_.end(), places.begin(), places.end());
    part_end_.push_back(by_part_.size());
  }
  list_repairs(setting, put_back);
}

void Outlook::add_cure(Repair& repair, std::uint32_t fault, double chance) const {
  const auto found = std::lower_bound(matters_.begin(), matters_.end(), fault);
  if (found == matters_.end() || *found != fault || chance <= 0) return;
  const auto index = static_cast<std::size_t>(found - matters_.begin());
  repair.cures.emplace_back(static_cast<std::uint32_t>(index), chance);
  const std::size_t part = part_of_[index];
  const bool is_known =
      std::find(repair.parts.begin(), repair.parts.end(), part) != repair.parts.end();
  if (!is_known) repair.parts.push_back(part);
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

void Outlook::set_share(const State& state, Share& share) const {
  double total = state.crossed;
  for (const double present : state.present) total += present;
  share.by_fault = state.present;
  share.crossed = state.crossed;
  if (total > 0) {
    for (double& one : share.by_fault) one /= total;
    share.crossed /= total;
  }
  share.by_part.resize(part_end_.size());
  for (std::size_t part = 0; part < part_end_.size(); ++part) add_up_part(part, share);
}

void Outlook::add_up_part(std::size_t part, Share& share) const {
  double sum = 0;
  for (std::size_t at = part == 0 ? 0 : part_end_[part - 1]; at < part_end_[part]; ++at) {
    sum += share.by_fault[by_part_[at]];
  }
  share.by_part[part] = sum;
}

double Outlook::visits(const Share& share) {
  double total = share.crossed;
  double likeliest = share.crossed;
  for (const double of_part : share.by_part) {
    total += of_part;
    likeliest = std::max(likeliest, of_part);
  }
  return total > 0 ? 2 - likeliest / total : 1;
}

double Outlook::cured_by(const Repair& repair, const Share& share) {
  double mass = repair.uncrosses ? share.crossed : 0;
  for (const auto& [index, chance] : repair.cures) mass += chance * share.by_fault[index];
  return mass;
}

void Outlook::take_out(const Repair& repair, Share& share) const {
  for (const auto& [index, chance] : repair.cures) share.by_fault[index] *= 1 - chance;
  for (const std::size_t part : repair.parts) add_up_part(part, share);
  if (repair.uncrosses) share.crossed = 0;
}

void Outlook::order_by_chance_over_cost() {
  order_.clear();
  for (std::size_t index = 0; index < repairs_.size(); ++index) {
    const double mass = cured_by(repairs_[index], share_);
    if (mass > 0) order_.emplace_back(-mass / repairs_[index].minutes, index);
  }
  std::sort(order_.begin(), order_.end());
}

// Something is wrong and heard: after each repair it is known whether it still is.
double Outlook::repairing(double closing_minutes) {
  left_ = share_;
  const auto way_out = [&] {
    return std::min(prices_.miss_minutes, prices_.service_minutes * visits(left_));
  };
  const double least_way_out = std::min(prices_.miss_minutes, prices_.service_minutes);
  double wrong = 1;
  double spent = 0;
  double best = way_out();
  for (const auto& [negative_ratio, index] : order_) {
    const Repair& repair = repairs_[index];
    spent += repair.minutes * wrong;
    if (spent >= best) break;
    wrong = std::max(0.0, wrong - cured_by(repair, left_));
    take_out(repair, left_);
    const double closed = spent + (1 - wrong) * closing_minutes;
    if (closed + wrong * least_way_out >= best) continue;  // however many visits
    best = std::min(best, closed + wrong * way_out());
  }
  return best;
}

// Nothing is heard: every repair is paid in full, and what is left is left in.
double Outlook::repairing_unheard(double wrong) {
  left_ = share_;
  double left = 1;
  double spent = 0;
  double best = prices_.miss_minutes * wrong;
  for (const auto& [negative_ratio, index] : order_) {
    const Repair& repair = repairs_[index];
    spent += repair.minutes;
    if (spent >= best) break;
    left = std::max(0.0, left - cured_by(repair, left_));
    take_out(repair, left_);
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
  Share share;
  set_share(state, share);
  return prices_.service_minutes * visits(share);
}

double Outlook::minutes(const State& state, double closing_minutes) {
  if (state.something_wrong <= 0) return 0;
  const double wrong = state.something_wrong;
  const double closing_now = close_minutes(state);
  // Nothing is cheaper than that: neither a repair nor a look, and service is a visit at least.
  const bool is_closed = !state.heard_wrong && closing_now <= prices_.service_minutes &&
                         closing_now <= least_repair_ && closing_now <= looking(wrong, 0);
  if (is_closed) return closing_now;
  set_share(state, share_);
  const double way_out = closing_now <= prices_.service_minutes
                             ? closing_now
                             : std::min(closing_now, prices_.service_minutes * visits(share_));
  order_by_chance_over_cost();
  std::optional<double> heard;
  if (state.heard_wrong) heard = repairing(closing_minutes);
  double unheard = std::min(way_out, repairing_unheard(wrong));
  if (looking(wrong, 0) < unheard) {
    if (!heard) heard = repairing(closing_minutes);
    unheard = std::min(unheard, looking(wrong, *heard));
  }
  if (!state.heard_wrong) return unheard;
  // What was heard may have been a slip while all is sound; then things stand as if it were quiet.
  return std::min(way_out, wrong * *heard + (1 - wrong) * unheard);
}

}  // namespace whichlink::plan
