#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "belief/network.h"

namespace whichlink::belief {

/// The states that one heard fault can be in at all, whatever is reported.
struct Axis {
  std::uint32_t fault = 0;
  std::size_t count = 0;                ///< of possible states
  std::array<State, kStates> states{};  ///< the first `count`, ascending
};

/// What a joint of every state of every heard fault would be made of.
struct JointShape {
  std::vector<Axis> axes;  ///< by heard fault, in the order in which the hearings bring them in
  /// Number of weights of the joint: the product of the possible states. May be infinity.
  double weights = 1;
  /// Number of likelihoods that a hearing needs: 2 ^ axes. May be infinity.
  double likelihoods = 1;
};
[[nodiscard]] JointShape joint_shape(const Network& network, std::span<const Slice> slices);

/// Exact posterior from that joint, in one flat array. Positive sums only: nothing cancels.
/// Impossible reports give log_evidence -infinity and the prior moved on. docs/mathematics.md 4.
/// @param shape  of the same network and slices; its weights and likelihoods must fit into memory
///               (8 bytes each, the likelihoods once for every severity)
/// Cost: for each slice, weights x (moved faults + 1) and likelihoods x severities.
[[nodiscard]] Posterior by_joint(const Network& network, std::span<const Slice> slices,
                                 const JointShape& shape);

}  // namespace whichlink::belief
