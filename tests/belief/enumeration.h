#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "belief/network.h"
#include "belief/set_belief.h"

/// The slow and obvious way, linked into tests only: the joint over all 3^n states, one weight
/// each. Every step is a sum of products of chances, so nothing cancels.
namespace whichlink::referee {

class Joint {
 public:
  /// Cost of everything below: 3^n x n, and 2^n x n x severities^2 for a hearing. Keep n below 11.
  explicit Joint(const belief::Network& network);

  void move(const std::vector<belief::Transition>& transitions);
  /// Multiplies by the likelihood of the report; does not normalise.
  void hear(const belief::Hearing& hearing);

  [[nodiscard]] double total() const;
  /// Not normalised: the weight of state `state` of the fault.
  [[nodiscard]] double weight_of(std::size_t fault, belief::State state) const;
  /// Not normalised: the weight of all states in which each of these faults is in its state.
  [[nodiscard]] double weight_where(const std::vector<std::uint32_t>& faults,
                                    const std::vector<belief::State>& states) const;
  /// Not normalised: the weight of all states in which no fault of the mask is present.
  [[nodiscard]] double weight_of_none(const std::vector<bool>& about) const;
  /// Keeps only states in which at most `most` of the faults of the mask are present.
  void keep_at_most(std::size_t most, const std::vector<bool>& among);
  /// By set of faults present (bit i: fault i), its weight.
  [[nodiscard]] std::vector<double> weight_of_sets() const;
  /// The weights of one such set only.
  [[nodiscard]] Joint only_set(std::size_t set) const;

 private:
  [[nodiscard]] belief::State state_of(std::size_t joint_state, std::size_t fault) const;

  const belief::Network* network_;
  std::vector<std::size_t> power_;  // of 3
  std::vector<double> weight_;      // by joint state: sum of state * 3^fault
};

/// P(worst = s) for each s: the leak and each of these faults draw, the worst is heard.
[[nodiscard]] std::vector<double> worst_of(const belief::Network& network,
                                           const std::vector<std::uint32_t>& showing,
                                           std::size_t sense,
                                           const std::vector<double>& leak_at_most);

[[nodiscard]] Joint after(const belief::Network& network, std::span<const belief::Slice> slices);
[[nodiscard]] belief::Posterior enumerate(const belief::Network& network,
                                          std::span<const belief::Slice> slices);
/// Outcomes from the joint as it stands (it may have been cut by keep_at_most), and the mutual
/// information between the report and the set of all faults present before the move.
[[nodiscard]] belief::Forecast forecast(const Joint& joint, const belief::Network& network,
                                        const belief::Question& question,
                                        const std::vector<bool>& about);

}  // namespace whichlink::referee
