#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "belief/network.h"

namespace whichlink::belief {

/// Four sums side by side, in a fixed order: one would wait for each addition.
[[nodiscard]] inline double sum_of(std::span<const double> values) {
  std::array<double, 4> sums{};
  std::size_t at = 0;
  for (; at + 4 <= values.size(); at += 4) {
    for (std::size_t sum = 0; sum < 4; ++sum) sums[sum] += values[at + sum];
  }
  for (; at < values.size(); ++at) sums[0] += values[at];
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

/// Sets of faults with a weight for each way its members can be quiet or showing, in flat arrays.
/// Members are heard places (positions in FaultBelief::heard), ascending. A set of m members has
/// 2^m weights; bit j of a weight's position says that member j shows.
class SetList {
 public:
  /// One set: the empty one, with weight 1.
  SetList() : member_begin_{0, 0}, weight_begin_{0, 1}, weights_{1.0} {}

  [[nodiscard]] std::size_t size() const { return member_begin_.size() - 1; }
  [[nodiscard]] std::span<const std::uint32_t> members(std::size_t set) const {
    return {members_.data() + member_begin_[set], member_begin_[set + 1] - member_begin_[set]};
  }
  [[nodiscard]] std::span<double> weights(std::size_t set) {
    return {weights_.data() + weight_begin_[set], weight_begin_[set + 1] - weight_begin_[set]};
  }
  [[nodiscard]] std::span<const double> weights(std::size_t set) const {
    return {weights_.data() + weight_begin_[set], weight_begin_[set + 1] - weight_begin_[set]};
  }
  [[nodiscard]] double weight(std::size_t set) const;
  /// Whether its weight is above this; stops as soon as that is known.
  [[nodiscard]] bool is_heavier(std::size_t set, double limit) const;
  [[nodiscard]] double total() const;
  /// Whether every weight is 0.
  [[nodiscard]] bool is_empty() const;
  /// Of all sets one after the other, for `put`.
  [[nodiscard]] const std::vector<double>& all_weights() const { return weights_; }
  /// @param weights  as many as there are
  void put(const std::vector<double>& weights) { weights_ = weights; }
  void divide(double total);
  /// Multiplies the weights of the sets from `first` to before `last`.
  void multiply(std::size_t first, std::size_t last, double factor);

  /// Adds a set with weights 0; the caller knows that it is not there yet. Spans become invalid.
  std::size_t add(std::span<const std::uint32_t> members);
  /// The same for the members of `set` and one with a higher place than any of them.
  std::size_t add_with(std::size_t set, std::uint32_t place);
  /// Removes every set of weight at most `limit`, but never the heaviest. @return the weight
  /// removed
  double remove_up_to(double limit);

 private:
  std::vector<std::size_t> member_begin_;
  std::vector<std::uint32_t> members_;
  std::vector<std::size_t> weight_begin_;
  std::vector<double> weights_;
};

/// Finds sets of a list by their members (open addressing; nothing depends on its order).
class SetIndex {
 public:
  static constexpr std::size_t kNone = static_cast<std::size_t>(-1);

  explicit SetIndex(const SetList& list);
  [[nodiscard]] std::size_t find(const SetList& list, std::span<const std::uint32_t> members) const;
  /// Call after each SetList::add.
  void added(const SetList& list, std::size_t set);

 private:
  void place(const SetList& list, std::size_t set);
  void rebuild(const SetList& list);
  std::vector<std::uint32_t> slots_;  // set + 1, or 0 where free
};

constexpr std::uint32_t kNotHeard = static_cast<std::uint32_t>(-1);

/// What is believed about the faults: sets over those that were heard, a vector for each other one.
struct FaultBelief {
  std::vector<StateVector> alone;          ///< by fault; of no meaning where heard
  std::vector<std::uint32_t> heard;        ///< faults in the sets, in the order they came in
  std::vector<std::uint32_t> heard_place;  ///< by fault: position in `heard`, or kNotHeard
  SetList sets;

  /// Lets those of these faults that are not heard yet into the sets, in this order.
  /// @return the weight of the sets of more than `most_present` members, which are not made
  double join(const std::vector<std::uint32_t>& faults, std::size_t most_present);
  /// Moves each of these faults.
  /// @return the weight that would have gone into sets larger than `most_present`
  double move(const std::vector<Transition>& transitions, std::size_t most_present);
  /// Multiplies each weight by the likelihood of the report. Every fault on the path must be heard.
  void hear(const Hearing& hearing, const std::vector<std::vector<double>>& at_most);

 private:
  /// Adds to each open set one with `place` as well; opens those that can grow further.
  void grow(std::vector<std::size_t>& open, std::uint32_t place, double quiet, double showing,
            std::size_t most_present);
  /// Moves a heard fault that may be cured.
  void cure(std::uint32_t place, const StateMatrix& matrix);
  /// Moves a heard fault that may appear, and may be cured.
  double move_across(std::uint32_t place, const StateMatrix& matrix, std::size_t most_present);
};

}  // namespace whichlink::belief
