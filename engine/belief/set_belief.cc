#include "belief/set_belief.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace whichlink::belief {
namespace {

/// The largest likelihood that any set of faults can have under this report. A severity that the
/// leak surely exceeds is out of reach.
double largest_likelihood(const Hearing& hearing) {
  double largest = 0;
  for (std::size_t severity = 0; severity < hearing.leak_at_most.size(); ++severity) {
    if (hearing.leak_at_most[severity] > 0) {
      largest = std::max(largest, hearing.chance_of_report[severity]);
    }
  }
  return largest;
}

/// The weight of the sets that do not hold the fault at this heard place.
double weight_without(const SetList& sets, std::size_t place) {
  double weight = 0;
  for (std::size_t set = 0; set < sets.size(); ++set) {
    const auto members = sets.members(set);
    if (std::find(members.begin(), members.end(), place) == members.end()) {
      weight += sets.weight(set);
    }
  }
  return weight;
}

}  // namespace

SetBelief::SetBelief(const Network& network, std::size_t most_present, double prune)
    : network_(&network), most_present_(most_present), prune_(prune) {
  belief_.alone = network.prior;
  belief_.heard_place.assign(network.faults(), kNotHeard);
}

void SetBelief::apply(const Slice& slice) {
  lost_ += belief_.move(slice.transitions, most_present_);
  lost_ += belief_.join(slice.hearing.path, most_present_);
  if (belief_.sets.is_empty()) {
    lose_everything();
    return;
  }
  if (!tells_something(slice.hearing)) {
    if (lost_ > 0) normalise(belief_.sets.total());
    return;
  }
  const double largest = largest_likelihood(slice.hearing);
  const std::vector<double> before = belief_.sets.all_weights();
  belief_.hear(slice.hearing, network_->at_most[slice.hearing.sense]);
  const double total = belief_.sets.total();
  lost_ *= largest;
  if (total > 0) {
    normalise(total);
  } else {
    all_lost_ = all_lost_ || lost_ > 0;
    log_evidence_ = -std::numeric_limits<double>::infinity();
    belief_.sets.put(before);
    belief_.sets.divide(belief_.sets.total());
  }
  const double removed = belief_.sets.remove_up_to(prune_);
  if (removed > 0) {
    lost_ += removed;
    normalise(belief_.sets.total());
  }
}

void SetBelief::all_sets_have(double log_evidence) {
  if (all_lost_ || !std::isfinite(log_evidence_)) return;
  constexpr double kRoundings = 1e-11;  // of both evidences
  const double rest = std::expm1(log_evidence - log_evidence_) + kRoundings;
  lost_ = std::min(lost_, std::max(rest, 0.0));
}

void SetBelief::normalise(double total) {
  log_evidence_ += std::log(total);
  belief_.sets.divide(total);
  lost_ /= total;
}

void SetBelief::lose_everything() {
  all_lost_ = true;
  log_evidence_ = -std::numeric_limits<double>::infinity();
  belief_.sets = SetList();
}

SetBelief SetBelief::thinned(double share) const {
  SetBelief thin = *this;
  const double removed = thin.belief_.sets.remove_up_to(share);
  if (removed > 0) {
    thin.lost_ += removed;
    thin.normalise(thin.belief_.sets.total());
  }
  return thin;
}

Posterior SetBelief::posterior() const {
  Posterior result;
  result.log_evidence = log_evidence_;
  result.marginal = belief_.alone;
  result.none_present = none_of(std::vector<bool>(network_->faults(), true));
  result.left_out = all_lost_ ? 1 : lost_ / (1 + lost_);

  const SetList& sets = belief_.sets;
  const double total = sets.total();
  for (const std::uint32_t fault : belief_.heard) result.marginal[fault] = {};
  for (std::size_t set = 0; set < sets.size(); ++set) {
    const auto members = sets.members(set);
    const auto weights = sets.weights(set);
    for (std::size_t mask = 0; mask < weights.size(); ++mask) {
      for (std::size_t member = 0; member < members.size(); ++member) {
        const State state = (mask >> member & 1U) != 0 ? kShowing : kQuiet;
        result.marginal[belief_.heard[members[member]]][state] += weights[mask];
      }
    }
  }
  // What is left of 1 is absent. Where it is the smaller part, it is summed where it is, so that a
  // small rest keeps its digits; members are few on average, so few faults can be that likely.
  for (std::size_t place = 0; place < belief_.heard.size(); ++place) {
    StateVector& marginal = result.marginal[belief_.heard[place]];
    const double present = marginal[kQuiet] + marginal[kShowing];
    marginal[kAbsent] = present < total / 2 ? total - present : weight_without(sets, place);
  }
  return result;
}

double SetBelief::none_of(const std::vector<bool>& about) const {
  double none = 0;
  for (std::size_t set = 0; set < belief_.sets.size(); ++set) {
    const auto members = belief_.sets.members(set);
    const bool any = std::any_of(members.begin(), members.end(), [&](std::uint32_t member) {
      return about[belief_.heard[member]];
    });
    if (!any) none += belief_.sets.weight(set);
  }
  for (std::size_t fault = 0; fault < about.size(); ++fault) {
    if (about[fault] && belief_.heard_place[fault] == kNotHeard) {
      none *= belief_.alone[fault][kAbsent];
    }
  }
  return none;
}

double SetBelief::chance_of(const std::vector<std::uint32_t>& faults,
                            const std::vector<State>& states) const {
  std::vector<std::optional<State>> wanted(belief_.heard.size());  // by heard place
  std::size_t present = 0;
  double alone = 1;
  for (std::size_t index = 0; index < faults.size(); ++index) {
    const std::uint32_t place = belief_.heard_place[faults[index]];
    if (place == kNotHeard) {
      alone *= belief_.alone[faults[index]][states[index]];
    } else {
      wanted[place] = states[index];
      if (states[index] != kAbsent) ++present;
    }
  }
  double chance = 0;
  for (std::size_t set = 0; set < belief_.sets.size(); ++set) {
    std::size_t found = 0;
    std::size_t care = 0;  // members whose state is given
    std::size_t show = 0;  // those of them that must show
    const auto members = belief_.sets.members(set);
    for (std::size_t member = 0; member < members.size(); ++member) {
      const std::optional<State>& state = wanted[members[member]];
      if (!state) continue;
      ++found;
      care |= std::size_t{1} << member;
      if (*state == kShowing) show |= std::size_t{1} << member;
    }
    const bool others_absent = std::none_of(members.begin(), members.end(),
                                            [&](auto member) { return wanted[member] == kAbsent; });
    if (found != present || !others_absent) continue;
    const auto weights = belief_.sets.weights(set);
    for (std::size_t mask = 0; mask < weights.size(); ++mask) {
      if ((mask & care) == show) chance += weights[mask];
    }
  }
  return chance * alone;
}

std::size_t SetBelief::sets() const {
  return belief_.sets.size();
}

}  // namespace whichlink::belief
