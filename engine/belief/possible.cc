#include "belief/possible.h"

namespace whichlink::belief {
namespace {

double chance_of(const std::vector<double>& at_most, std::size_t severity) {
  return severity == 0 ? at_most[0] : at_most[severity] - at_most[severity - 1];
}

/// Keeps only the states that some severity, possible under the report, leaves possible.
void hear(std::vector<PossibleStates>& states, const Hearing& hearing,
          const std::vector<std::vector<double>>& at_most) {
  std::vector<PossibleStates> kept(hearing.path.size(), PossibleStates{});
  for (std::size_t severity = 0; severity < hearing.leak_at_most.size(); ++severity) {
    if (hearing.chance_of_report[severity] <= 0 || hearing.leak_at_most[severity] <= 0) continue;
    std::size_t too_bad = 0;  // faults that are surely worse
    std::size_t reached = chance_of(hearing.leak_at_most, severity) > 0 ? 1 : 0;
    const auto silent = [&](std::uint32_t fault) {
      return states[fault][kAbsent] || states[fault][kQuiet];
    };
    const auto can_be_below = [&](std::uint32_t fault) {
      return silent(fault) || (states[fault][kShowing] && at_most[fault][severity] > 0);
    };
    const auto can_reach = [&](std::uint32_t fault) {
      return states[fault][kShowing] && chance_of(at_most[fault], severity) > 0;
    };
    for (const std::uint32_t fault : hearing.path) {
      if (!can_be_below(fault)) ++too_bad;
      if (can_reach(fault)) ++reached;
    }
    if (too_bad > 0) continue;
    for (std::size_t place = 0; place < hearing.path.size(); ++place) {
      const std::uint32_t fault = hearing.path[place];
      const std::size_t reached_by_others = reached - (can_reach(fault) ? 1 : 0);
      if (reached_by_others > 0) {
        kept[place][kAbsent] = kept[place][kAbsent] || states[fault][kAbsent];
        kept[place][kQuiet] = kept[place][kQuiet] || states[fault][kQuiet];
      }
      if (states[fault][kShowing] && at_most[fault][severity] > 0 &&
          (reached_by_others > 0 || can_reach(fault))) {
        kept[place][kShowing] = true;
      }
    }
  }
  for (std::size_t place = 0; place < hearing.path.size(); ++place) {
    states[hearing.path[place]] = kept[place];
  }
}

bool some_severity_possible(const Hearing& hearing) {
  for (std::size_t severity = 0; severity < hearing.leak_at_most.size(); ++severity) {
    if (hearing.chance_of_report[severity] > 0 && chance_of(hearing.leak_at_most, severity) > 0) {
      return true;
    }
  }
  return false;
}

}  // namespace

bool may_be_possible(const Network& network, std::span<const Slice> slices) {
  std::vector<PossibleStates> states;
  states.reserve(network.faults());
  for (const StateVector& prior : network.prior) {
    states.push_back(possible_states(prior));
  }
  for (const Slice& slice : slices) {
    for (const Transition& transition : slice.transitions) {
      states[transition.fault] = moved(states[transition.fault], transition.matrix);
    }
    if (slice.hearing.path.empty() && !some_severity_possible(slice.hearing)) return false;
    hear(states, slice.hearing, network.at_most[slice.hearing.sense]);
    for (const std::uint32_t fault : slice.hearing.path) {
      const PossibleStates& left = states[fault];
      if (!left[kAbsent] && !left[kQuiet] && !left[kShowing]) return false;
    }
  }
  return true;
}

}  // namespace whichlink::belief
