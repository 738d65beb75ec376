#include <algorithm>

#include "drill/drill.h"
#include "moves/standing.h"

/// What a drill comes to.
namespace whichlink::drill {

void Drill::find_parts(Score& score) const {
  const moves::Setting& setting = case_->setting();
  const chain::Chain& chain = setting.chain();
  const moves::Standing& standing = case_->standing();
  score.not_put_back = moves::put_back_list(setting, standing);
  constexpr double kShown = .5;  // as on the closing page of a case
  for (const moves::Substitute& swap : standing.substituted) {
    std::vector<bool> mask(setting.faults().size(), false);
    for (const ElementId element : chain.parts[swap.out].elements) {
      for (const FaultId fault : setting.faults_of(element)) mask[fault.value] = true;
    }
    if (any_at_start(*case_, mask) < kShown) score.blamed.push_back(chain.parts[swap.out].name);
  }
  if (standing.temporary) {
    const auto* swap = std::get_if<moves::Substitute>(&standing.temporary->action);
    score.borrowed_left_in = swap != nullptr && !chain.parts[swap->in].spare;
  }
  const guide::Ending ending = case_->ending(guide::Stage::mended);
  for (const std::string& need : ending.needs_after) {
    if (std::find(checks_.begin(), checks_.end(), need) == checks_.end()) {
      score.unchecked.push_back(need);
    }
  }
}

bool Drill::sound_once_put_back() const {
  const moves::Setting& setting = case_->setting();
  simulate::Truth truth = truth_;
  moves::Standing standing = case_->standing();
  for (const moves::Move& move : moves::derive_moves(setting, standing)) {
    if (!std::holds_alternative<moves::PutBack>(move.action)) continue;
    truth.real = moves::patched_after(setting, standing, move, truth.real);
    standing = moves::after(setting, standing, move);
    break;
  }
  return simulate::Room(setting, std::move(truth), listener_, 0).sound(standing);
}

Score Drill::score() const {
  Score score;
  score.ideal = ideal_;
  score.by_habit.resize(kHabits, 0.0);
  for (const Turn& turn : turns_) {
    score.lost += turn.lost;
    if (turn.habit) score.by_habit[static_cast<std::size_t>(*turn.habit)] += turn.lost;
    score.minutes += turn.minutes;
    if (turn.chosen.move) ++score.moves;
    if (turn.told_nothing) ++score.told_nothing;
    if (turn.hint == Hint::move) ++score.told_moves;
  }
  score.unsupported = static_cast<std::size_t>(std::count_if(
      claims_.begin(), claims_.end(), [](const Claim& one) { return !one.supported; }));
  if (stage_ == Stage::under_way) return score;
  find_parts(score);
  score.service = turns_.back().chosen.verdict == plan::Verdict::service;
  score.unproved = !score.service && !track_->verified();
  score.left_in = !score.service && !sound_once_put_back();
  return score;
}

}  // namespace whichlink::drill
