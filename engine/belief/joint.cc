// The joint of all states of the heard faults (docs/mathematics.md 4): for few faults, the fastest.

#include "belief/joint.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "belief/possible.h"
#include "belief/set_list.h"
#include "belief/worst.h"

namespace whichlink::belief {
namespace {

/// The weights lie with the states of the first axis side by side; the axis that came in last has
/// the largest stride.
class Joint {
 public:
  Joint(const Network& network, const JointShape& shape)
      : network_(network), axes_(shape.axes), alone_(network.prior) {
    weights_.reserve(static_cast<std::size_t>(shape.weights));
    showing_.reserve(static_cast<std::size_t>(shape.weights));
    weights_.push_back(1);
    showing_.push_back(0);
    strides_.reserve(axes_.size());
    bits_.reserve(axes_.size());
    in_path_.reserve(static_cast<std::size_t>(shape.likelihoods));
    likelihood_.reserve(static_cast<std::size_t>(shape.likelihoods));
    place_.assign(network.faults(), kNotHeard);
  }

  void move(const std::vector<Transition>& transitions) {
    for (const Transition& transition : transitions) {
      const std::uint32_t place = place_[transition.fault];
      if (place == kNotHeard) {
        alone_[transition.fault] = moved(alone_[transition.fault], transition.matrix);
      } else {
        move_axis(place, transition.matrix);
      }
    }
  }

  /// @return whether the report is possible
  bool hear(const Hearing& hearing) {
    for (const std::uint32_t fault : hearing.path) {
      if (place_[fault] == kNotHeard) join(fault);
    }
    if (!tells_something(hearing)) return true;
    find_likelihoods(hearing);
    for (std::size_t cell = 0; cell < weights_.size(); ++cell) {
      weights_[cell] *= likelihood_[showing_[cell]];
    }
    const double total = sum_of(weights_);
    if (total <= 0) return false;
    constexpr double kSmall = 1e-20;  // far from underflow, even after the next report
    if (total < kSmall) {
      log_taken_out_ += std::log(total);
      for (double& weight : weights_) weight /= total;
    }
    return true;
  }

  /// Uses the joint up.
  [[nodiscard]] Posterior posterior() {
    Posterior result;
    const double total = sum_of(weights_);
    result.log_evidence = log_taken_out_ + std::log(total);
    result.none_present = weights_[0] / total;  // each axis begins with absent, if that is possible
    for (const Axis& axis : axes_) {
      if (axis.states[0] != kAbsent) result.none_present = 0;
      alone_[axis.fault] = {};
    }
    for (std::size_t fault = 0; fault < place_.size(); ++fault) {
      if (place_[fault] == kNotHeard) result.none_present *= alone_[fault][kAbsent];
    }
    result.marginal = std::move(alone_);
    // From the last axis to the first: its sums, then the joint of the others without it.
    for (std::size_t place = strides_.size(); place-- > 0;) {
      const Axis& axis = axes_[place];
      const std::size_t stride = strides_[place];
      for (std::size_t state = 0; state < axis.count; ++state) {
        const auto block = std::span(weights_).subspan(state * stride, stride);
        result.marginal[axis.fault][axis.states[state]] = sum_of(block) / total;
      }
      for (std::size_t state = 1; state < axis.count; ++state) {
        const double* block = weights_.data() + state * stride;
        for (std::size_t cell = 0; cell < stride; ++cell) weights_[cell] += block[cell];
      }
    }
    return result;
  }

 private:
  // The faults come in by the order of the axes.
  void join(std::uint32_t fault) {
    const std::size_t place = strides_.size();
    const Axis& axis = axes_[place];
    const std::size_t stride = weights_.size();
    const auto bit = static_cast<std::uint32_t>(std::size_t{1} << place);
    place_[fault] = static_cast<std::uint32_t>(place);
    strides_.push_back(stride);
    weights_.resize(stride * axis.count);
    showing_.resize(stride * axis.count);
    for (std::size_t state = axis.count; state-- > 0;) {
      const double chance = alone_[fault][axis.states[state]];
      const std::uint32_t shows = axis.states[state] == kShowing ? bit : 0;
      for (std::size_t cell = 0; cell < stride; ++cell) {
        weights_[state * stride + cell] = weights_[cell] * chance;
        showing_[state * stride + cell] = showing_[cell] | shows;
      }
    }
  }

  void move_axis(std::size_t place, const StateMatrix& matrix) {
    const Axis& axis = axes_[place];
    const std::size_t stride = strides_[place];
    for (std::size_t begin = 0; begin < weights_.size(); begin += stride * axis.count) {
      double* block = weights_.data() + begin;
      if (axis.count == 3) {
        mix_three(block, stride, matrix);
      } else if (axis.count == 2) {
        mix_two(block, stride, matrix, axis.states[0], axis.states[1]);
      } else {
        // one state that it never leaves
      }
    }
  }

  static void mix_two(double* first, std::size_t stride, const StateMatrix& matrix, State a,
                      State b) {
    double* second = first + stride;
    for (std::size_t cell = 0; cell < stride; ++cell) {
      const double of_a = first[cell];
      const double of_b = second[cell];
      first[cell] = of_a * matrix[a][a] + of_b * matrix[b][a];
      second[cell] = of_a * matrix[a][b] + of_b * matrix[b][b];
    }
  }

  static void mix_three(double* absent, std::size_t stride, const StateMatrix& matrix) {
    double* quiet = absent + stride;
    double* showing = quiet + stride;
    const bool keeps_to_itself = matrix[kAbsent][kAbsent] == 1 && matrix[kQuiet][kAbsent] == 0 &&
                                 matrix[kShowing][kAbsent] == 0;
    if (keeps_to_itself) {
      mix_two(quiet, stride, matrix, kQuiet, kShowing);
      return;
    }
    for (std::size_t cell = 0; cell < stride; ++cell) {
      const StateVector after =
          moved(StateVector{absent[cell], quiet[cell], showing[cell]}, matrix);
      absent[cell] = after[kAbsent];
      quiet[cell] = after[kQuiet];
      showing[cell] = after[kShowing];
    }
  }

  // likelihood_[set]: of the report, given the set of showing faults (a bit by place). The draws
  // are put before the report one by one, as in worst.h, in each set of those before.
  void find_likelihoods(const Hearing& hearing) {
    const std::size_t severities = hearing.leak_at_most.size();
    const std::size_t path = hearing.path.size();
    const std::size_t width = std::size_t{1} << (path == 0 ? 0 : path - 1);
    const auto& at_most = network_.at_most[hearing.sense];
    backwards_.resize(severities * width);
    on_path_.resize(2 * width);
    const auto row = [&](std::size_t set) { return backwards_.data() + set * severities; };
    before_draw(hearing.chance_of_report.data(), hearing.leak_at_most, row(0));
    for (std::size_t member = 0; member + 1 < path; ++member) {
      const std::size_t sets = std::size_t{1} << member;
      for (std::size_t set = 0; set < sets; ++set) {
        before_draw(row(set), at_most[hearing.path[member]], row(sets + set));
      }
    }
    for (std::size_t set = 0; set < width; ++set) {
      on_path_[set] = row(set)[0];
      if (path > 0) on_path_[width + set] = before_last(row(set), at_most[hearing.path[path - 1]]);
    }
    spread(hearing.path);
  }

  // From sets of the path to sets of all heard faults: the others make no difference.
  void spread(const std::vector<std::uint32_t>& path) {
    const std::size_t places = strides_.size();
    likelihood_.resize(std::size_t{1} << places);
    bits_.assign(places, 0);
    for (std::size_t member = 0; member < path.size(); ++member) {
      bits_[place_[path[member]]] = static_cast<std::uint32_t>(std::size_t{1} << member);
    }
    in_path_.resize(likelihood_.size());
    in_path_[0] = 0;
    for (std::size_t place = 0; place < places; ++place) {
      const std::size_t sets = std::size_t{1} << place;
      for (std::size_t set = 0; set < sets; ++set)
        in_path_[sets + set] = in_path_[set] | bits_[place];
    }
    for (std::size_t set = 0; set < likelihood_.size(); ++set) {
      likelihood_[set] = on_path_[in_path_[set]];
    }
  }

  const Network& network_;
  const std::vector<Axis>& axes_;
  std::vector<StateVector> alone_;      // by fault; of no meaning where it has an axis
  std::vector<std::uint32_t> place_;    // by fault: its axis, or kNotHeard
  std::vector<std::size_t> strides_;    // by axis, of those that have come in
  std::vector<double> weights_;         // of each joint state
  std::vector<std::uint32_t> showing_;  // by joint state: which faults show, a bit by axis
  double log_taken_out_ = 0;
  // Of one hearing; kept so that their memory is used again.
  std::vector<double> backwards_;       // [severity][set of the path without its last]
  std::vector<double> on_path_;         // by set of the path
  std::vector<std::uint32_t> bits_;     // by axis: its bit in a set of the path, or 0
  std::vector<std::uint32_t> in_path_;  // by set of axes: its set of the path
  std::vector<double> likelihood_;      // by set of axes
};

}  // namespace

JointShape joint_shape(const Network& network, std::span<const Slice> slices) {
  JointShape shape;
  std::vector<std::uint32_t> place(network.faults(), kNotHeard);
  for (const Slice& slice : slices) {
    for (const std::uint32_t fault : slice.hearing.path) {
      if (place[fault] != kNotHeard) continue;
      place[fault] = static_cast<std::uint32_t>(shape.axes.size());
      shape.axes.push_back({fault, 0, {}});
    }
  }
  shape.likelihoods = std::exp2(static_cast<double>(shape.axes.size()));
  std::vector<PossibleStates> possible;
  possible.reserve(shape.axes.size());
  for (const Axis& axis : shape.axes) {
    const StateVector& prior = network.prior[axis.fault];
    possible.push_back(possible_states(prior));
  }
  for (const Slice& slice : slices) {
    for (const Transition& transition : slice.transitions) {
      const std::uint32_t at = place[transition.fault];
      if (at == kNotHeard) continue;
      // All that it was or can come to: the axis holds both.
      const PossibleStates after = moved(possible[at], transition.matrix);
      for (std::size_t state = 0; state < kStates; ++state) {
        possible[at][state] = possible[at][state] || after[state];
      }
    }
  }
  for (std::size_t at = 0; at < shape.axes.size(); ++at) {
    Axis& axis = shape.axes[at];
    for (const State state : {kAbsent, kQuiet, kShowing}) {
      if (possible[at][state]) axis.states[axis.count++] = state;
    }
    shape.weights *= static_cast<double>(axis.count);
  }
  return shape;
}

Posterior by_joint(const Network& network, std::span<const Slice> slices, const JointShape& shape) {
  Joint joint(network, shape);
  for (const Slice& slice : slices) {
    joint.move(slice.transitions);
    if (joint.hear(slice.hearing)) continue;
    Posterior impossible = moved_prior(network, slices);
    impossible.log_evidence = -std::numeric_limits<double>::infinity();
    return impossible;
  }
  return joint.posterior();
}

}  // namespace whichlink::belief
