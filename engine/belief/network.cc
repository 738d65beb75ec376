#include "belief/network.h"

#include <algorithm>

namespace whichlink::belief {

StateMatrix then(const StateMatrix& first, const StateMatrix& second) {
  StateMatrix both{};
  for (std::size_t from = 0; from < kStates; ++from) {
    for (std::size_t to = 0; to < kStates; ++to) {
      for (std::size_t between = 0; between < kStates; ++between) {
        both[from][to] += first[from][between] * second[between][to];
      }
    }
  }
  return both;
}

StateVector moved(const StateVector& vector, const StateMatrix& matrix) {
  StateVector result{};
  for (std::size_t to = 0; to < kStates; ++to) {
    for (std::size_t from = 0; from < kStates; ++from) {
      result[to] += vector[from] * matrix[from][to];
    }
  }
  return result;
}

bool tells_something(const Hearing& hearing) {
  return std::any_of(hearing.chance_of_report.begin(), hearing.chance_of_report.end(),
                     [](double chance) { return chance != 1; });
}

Posterior moved_prior(const Network& network, std::span<const Slice> slices) {
  Posterior result;
  result.marginal = network.prior;
  for (const Slice& slice : slices) {
    for (const Transition& transition : slice.transitions) {
      StateVector& vector = result.marginal[transition.fault];
      vector = moved(vector, transition.matrix);
    }
  }
  result.none_present = 1;
  for (const StateVector& vector : result.marginal) result.none_present *= vector[kAbsent];
  return result;
}

}  // namespace whichlink::belief
