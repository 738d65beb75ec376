#include "flat/fault_sets.h"

#include <algorithm>

namespace whichlink::flat {

FaultSets::FaultSets(std::size_t faults, std::size_t together)
    : faults_(faults), together_(std::min(faults, together)) {
  FaultStates states(faults, belief::kAbsent);
  list(states, 0, together_);
  for (const FaultStates& set : sets_) {
    index_.emplace(set, static_cast<std::uint32_t>(index_.size()));
  }
}

void FaultSets::list(FaultStates& states, std::size_t from, std::size_t left) {
  sets_.push_back(states);
  if (left == 0) return;
  for (std::size_t fault = from; fault < faults_; ++fault) {
    for (const belief::State present : {belief::kQuiet, belief::kShowing}) {
      states[fault] = present;
      list(states, fault + 1, left - 1);
    }
    states[fault] = belief::kAbsent;
  }
}

double FaultSets::count(std::size_t faults, std::size_t together) {
  double sets = 1;
  double of_one_size = 1;
  for (std::size_t members = 1; members <= std::min(faults, together); ++members) {
    of_one_size *= 2 * static_cast<double>(faults - members + 1) / static_cast<double>(members);
    sets += of_one_size;
  }
  return sets;
}

void FaultSets::draw(const std::vector<belief::StateVector>& chances, FaultStates& states,
                     std::size_t present, double chance, Row& row) const {
  if (chance <= 0 || present > together_) return;
  if (states.size() == faults_) {
    row.push_back({index_.at(states), chance});
    return;
  }
  const belief::StateVector& own = chances[states.size()];
  for (const belief::State state : {belief::kAbsent, belief::kQuiet, belief::kShowing}) {
    states.push_back(state);
    draw(chances, states, present + (state == belief::kAbsent ? 0 : 1), chance * own[state], row);
    states.pop_back();
  }
}

Row FaultSets::drawn(const std::vector<belief::StateVector>& chances) const {
  Row row;
  FaultStates states;
  states.reserve(faults_);
  draw(chances, states, 0, 1, row);
  std::sort(row.begin(), row.end(),
            [](const Entry& a, const Entry& b) { return a.index < b.index; });
  return row;
}

Row FaultSets::moved(std::size_t set, const std::vector<belief::StateMatrix>& matrices) const {
  std::vector<belief::StateVector> chances;
  chances.reserve(faults_);
  for (std::size_t fault = 0; fault < faults_; ++fault) {
    chances.push_back(matrices[fault][sets_[set][fault]]);
  }
  Row row = drawn(chances);
  double total = 0;
  for (const Entry& entry : row) total += entry.chance;
  if (total <= 0) return {{static_cast<std::uint32_t>(set), 1}};
  for (Entry& entry : row) entry.chance /= total;
  return row;
}

}  // namespace whichlink::flat
