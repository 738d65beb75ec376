#include "belief/network.h"

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
