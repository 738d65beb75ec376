#pragma once

#include <array>
#include <span>

#include "belief/network.h"

namespace whichlink::belief {

/// By state: whether a fault can be in it at all.
using PossibleStates = std::array<bool, kStates>;
[[nodiscard]] inline PossibleStates possible_states(const StateVector& chances) {
  return {chances[kAbsent] > 0, chances[kQuiet] > 0, chances[kShowing] > 0};
}
/// The same after a move.
[[nodiscard]] inline PossibleStates moved(const PossibleStates& states, const StateMatrix& matrix) {
  PossibleStates result{};
  for (std::size_t from = 0; from < kStates; ++from) {
    for (std::size_t to = 0; to < kStates; ++to) {
      result[to] = result[to] || (states[from] && matrix[from][to] > 0);
    }
  }
  return result;
}

/// False only if the reports are impossible. Looks at each fault's possible states one by one, so
/// it sees through a report that no fault can explain, but not through every contradiction that
/// takes several faults together. No rounding is involved: only "is it 0" is asked of each number.
/// Cost: slices x (faults on the path) x severities.
[[nodiscard]] bool may_be_possible(const Network& network, std::span<const Slice> slices);

}  // namespace whichlink::belief
