#include "belief/enumeration.h"

#include <cmath>
#include <limits>
#include <map>

namespace whichlink::referee {

using belief::State;

namespace {

std::vector<double> chances(const std::vector<double>& at_most) {
  std::vector<double> chance(at_most.size());
  for (std::size_t s = 0; s < chance.size(); ++s) {
    chance[s] = s == 0 ? at_most[0] : at_most[s] - at_most[s - 1];
  }
  return chance;
}

}  // namespace

std::vector<double> worst_of(const belief::Network& network,
                             const std::vector<std::uint32_t>& showing, std::size_t sense,
                             const std::vector<double>& leak_at_most) {
  std::vector<double> worst = chances(leak_at_most);
  for (const std::uint32_t fault : showing) {
    const std::vector<double> draw = chances(network.at_most[sense][fault]);
    std::vector<double> next(worst.size(), 0);
    for (std::size_t a = 0; a < worst.size(); ++a) {
      for (std::size_t b = 0; b < draw.size(); ++b) next[std::max(a, b)] += worst[a] * draw[b];
    }
    worst = next;
  }
  return worst;
}

Joint::Joint(const belief::Network& network) : network_(&network) {
  std::size_t states = 1;
  for (std::size_t fault = 0; fault < network.faults(); ++fault) {
    power_.push_back(states);
    states *= belief::kStates;
  }
  weight_.assign(states, 1);
  for (std::size_t joint_state = 0; joint_state < states; ++joint_state) {
    for (std::size_t fault = 0; fault < network.faults(); ++fault) {
      weight_[joint_state] *= network.prior[fault][state_of(joint_state, fault)];
    }
  }
}

State Joint::state_of(std::size_t joint_state, std::size_t fault) const {
  return static_cast<State>(joint_state / power_[fault] % belief::kStates);
}

void Joint::move(const std::vector<belief::Transition>& transitions) {
  for (const belief::Transition& transition : transitions) {
    std::vector<double> next(weight_.size(), 0);
    for (std::size_t from = 0; from < weight_.size(); ++from) {
      const State state = state_of(from, transition.fault);
      const std::size_t others = from - state * power_[transition.fault];
      for (std::size_t to = 0; to < belief::kStates; ++to) {
        next[others + to * power_[transition.fault]] +=
            weight_[from] * transition.matrix[state][to];
      }
    }
    weight_ = next;
  }
}

void Joint::hear(const belief::Hearing& hearing) {
  std::map<std::vector<std::uint32_t>, double> likelihood;
  for (std::size_t joint_state = 0; joint_state < weight_.size(); ++joint_state) {
    std::vector<std::uint32_t> showing;
    for (const std::uint32_t fault : hearing.path) {
      if (state_of(joint_state, fault) == belief::kShowing) showing.push_back(fault);
    }
    auto found = likelihood.find(showing);
    if (found == likelihood.end()) {
      const auto worst = worst_of(*network_, showing, hearing.sense, hearing.leak_at_most);
      double chance = 0;
      for (std::size_t s = 0; s < worst.size(); ++s) {
        chance += worst[s] * hearing.chance_of_report[s];
      }
      found = likelihood.emplace(showing, chance).first;
    }
    weight_[joint_state] *= found->second;
  }
}

double Joint::total() const {
  double total = 0;
  for (const double weight : weight_) total += weight;
  return total;
}

double Joint::weight_of(std::size_t fault, State state) const {
  double total = 0;
  for (std::size_t joint_state = 0; joint_state < weight_.size(); ++joint_state) {
    if (state_of(joint_state, fault) == state) total += weight_[joint_state];
  }
  return total;
}

double Joint::weight_where(const std::vector<std::uint32_t>& faults,
                           const std::vector<State>& states) const {
  double total = 0;
  for (std::size_t joint_state = 0; joint_state < weight_.size(); ++joint_state) {
    bool all = true;
    for (std::size_t index = 0; index < faults.size(); ++index) {
      all = all && state_of(joint_state, faults[index]) == states[index];
    }
    if (all) total += weight_[joint_state];
  }
  return total;
}

double Joint::weight_of_none(const std::vector<bool>& about) const {
  double total = 0;
  for (std::size_t joint_state = 0; joint_state < weight_.size(); ++joint_state) {
    bool none = true;
    for (std::size_t fault = 0; fault < about.size(); ++fault) {
      none = none && (!about[fault] || state_of(joint_state, fault) == belief::kAbsent);
    }
    if (none) total += weight_[joint_state];
  }
  return total;
}

void Joint::keep_at_most(std::size_t most, const std::vector<bool>& among) {
  for (std::size_t joint_state = 0; joint_state < weight_.size(); ++joint_state) {
    std::size_t present = 0;
    for (std::size_t fault = 0; fault < among.size(); ++fault) {
      if (among[fault] && state_of(joint_state, fault) != belief::kAbsent) ++present;
    }
    if (present > most) weight_[joint_state] = 0;
  }
}

std::vector<double> Joint::weight_of_sets() const {
  std::vector<double> weight(std::size_t{1} << power_.size(), 0);
  for (std::size_t joint_state = 0; joint_state < weight_.size(); ++joint_state) {
    std::size_t set = 0;
    for (std::size_t fault = 0; fault < power_.size(); ++fault) {
      if (state_of(joint_state, fault) != belief::kAbsent) set |= std::size_t{1} << fault;
    }
    weight[set] += weight_[joint_state];
  }
  return weight;
}

Joint Joint::only_set(std::size_t set) const {
  Joint only = *this;
  for (std::size_t joint_state = 0; joint_state < weight_.size(); ++joint_state) {
    for (std::size_t fault = 0; fault < power_.size(); ++fault) {
      const bool present = state_of(joint_state, fault) != belief::kAbsent;
      if (present != ((set >> fault & 1U) != 0)) only.weight_[joint_state] = 0;
    }
  }
  return only;
}

Joint after(const belief::Network& network, std::span<const belief::Slice> slices) {
  Joint joint(network);
  for (const belief::Slice& slice : slices) {
    joint.move(slice.transitions);
    joint.hear(slice.hearing);
  }
  return joint;
}

belief::Posterior enumerate(const belief::Network& network, std::span<const belief::Slice> slices) {
  Joint joint = after(network, slices);
  belief::Posterior result;
  result.log_evidence = std::log(joint.total());
  if (joint.total() == 0) {
    joint = Joint(network);
    for (const belief::Slice& slice : slices) joint.move(slice.transitions);
    result.log_evidence = -std::numeric_limits<double>::infinity();
  }
  const double total = joint.total();
  for (std::size_t fault = 0; fault < network.faults(); ++fault) {
    result.marginal.push_back({joint.weight_of(fault, belief::kAbsent) / total,
                               joint.weight_of(fault, belief::kQuiet) / total,
                               joint.weight_of(fault, belief::kShowing) / total});
  }
  result.none_present = joint.weight_of_none(std::vector<bool>(network.faults(), true)) / total;
  return result;
}

namespace {

belief::Hearing hearing_of(const belief::Question& question, std::size_t outcome) {
  belief::Hearing hearing{question.path, question.sense, question.leak_at_most, {}};
  for (const auto& row : question.report) hearing.chance_of_report.push_back(row[outcome]);
  return hearing;
}

double entropy_bits(const std::vector<double>& weights, double total) {
  double bits = 0;
  for (const double weight : weights) {
    if (weight > 0) bits -= weight / total * std::log2(weight / total);
  }
  return bits;
}

}  // namespace

belief::Forecast forecast(const Joint& joint, const belief::Network& network,
                          const belief::Question& question, const std::vector<bool>& about) {
  belief::Forecast result;
  Joint moved = joint;
  moved.move(question.transitions);
  for (std::size_t outcome = 0; outcome < question.report[0].size(); ++outcome) {
    Joint heard = moved;
    heard.hear(hearing_of(question, outcome));
    belief::Outcome left;
    left.chance = heard.total() / joint.total();
    if (heard.total() == 0) heard = moved;
    for (std::size_t fault = 0; fault < network.faults(); ++fault) {
      left.present.push_back(
          (heard.weight_of(fault, belief::kQuiet) + heard.weight_of(fault, belief::kShowing)) /
          heard.total());
    }
    left.none_present = heard.weight_of_none(about) / heard.total();
    result.outcomes.push_back(left);
  }
  // Mutual information as entropy of the report, less its mean entropy once the set is known.
  std::vector<double> chances_of_outcomes;
  for (const auto& outcome : result.outcomes) chances_of_outcomes.push_back(outcome.chance);
  result.bits = entropy_bits(chances_of_outcomes, 1);
  const std::vector<double> sets = joint.weight_of_sets();
  for (std::size_t set = 0; set < sets.size(); ++set) {
    if (sets[set] == 0) continue;
    Joint only = joint.only_set(set);
    only.move(question.transitions);
    std::vector<double> reports;
    for (std::size_t outcome = 0; outcome < result.outcomes.size(); ++outcome) {
      Joint heard = only;
      heard.hear(hearing_of(question, outcome));
      reports.push_back(heard.total());
    }
    result.bits -= sets[set] / joint.total() * entropy_bits(reports, sets[set]);
  }
  return result;
}

}  // namespace whichlink::referee
