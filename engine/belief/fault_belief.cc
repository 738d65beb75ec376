// How the sets grow, move and take a report in (docs/mathematics.md 4).

#include <algorithm>
#include <array>

#include "belief/set_list.h"
#include "belief/worst.h"

namespace whichlink::belief {
namespace {

/// `mask` with a bit slipped in at `position`.
std::size_t with_bit(std::size_t mask, std::size_t position, std::size_t bit) {
  const std::size_t low = mask & ((std::size_t{1} << position) - 1);
  return ((mask ^ low) << 1U) | (bit << position) | low;
}

std::vector<std::uint32_t> with(std::span<const std::uint32_t> members, std::uint32_t place) {
  std::vector<std::uint32_t> larger(members.begin(), members.end());
  larger.insert(std::lower_bound(larger.begin(), larger.end(), place), place);
  return larger;
}

std::vector<std::uint32_t> without(std::span<const std::uint32_t> members, std::uint32_t place) {
  std::vector<std::uint32_t> smaller;
  smaller.reserve(members.size());
  std::remove_copy(members.begin(), members.end(), std::back_inserter(smaller), place);
  return smaller;
}

/// Position of `place` among the members, or their number if it is not one of them.
std::size_t position_of(std::span<const std::uint32_t> members, std::uint32_t place) {
  return static_cast<std::size_t>(std::find(members.begin(), members.end(), place) -
                                  members.begin());
}

/// Moves one member that neither appears nor is cured: only quiet and showing mix.
void move_inside(std::span<double> weights, std::size_t position, const StateMatrix& matrix) {
  const std::size_t bit = std::size_t{1} << position;
  for (std::size_t mask = 0; mask < weights.size(); ++mask) {
    if ((mask & bit) != 0) continue;
    const double quiet = weights[mask];
    const double showing = weights[mask | bit];
    weights[mask] = quiet * matrix[kQuiet][kQuiet] + showing * matrix[kShowing][kQuiet];
    weights[mask | bit] = quiet * matrix[kQuiet][kShowing] + showing * matrix[kShowing][kShowing];
  }
}

/// Moves one fault between a set without it and the set with it, at `position` there.
void move_between(std::span<double> smaller, std::span<double> larger, std::size_t position,
                  const StateMatrix& matrix) {
  for (std::size_t mask = 0; mask < smaller.size(); ++mask) {
    double& quiet = larger[with_bit(mask, position, 0)];
    double& showing = larger[with_bit(mask, position, 1)];
    const StateVector after = moved({smaller[mask], quiet, showing}, matrix);
    smaller[mask] = after[kAbsent];
    quiet = after[kQuiet];
    showing = after[kShowing];
  }
}

/// The likelihoods of one report for every set of showing faults, from the worst severity
/// backwards.
class ReportLikelihood {
 public:
  ReportLikelihood(const FaultBelief& belief, const Hearing& hearing,
                   const std::vector<std::vector<double>>& at_most)
      : severities_(hearing.leak_at_most.size()),
        on_path_(belief.heard.size(), kNotHeard),
        path_(hearing.path),
        at_most_(at_most),
        rows_((path_.size() + 1) * severities_) {
    before_draw(hearing.chance_of_report.data(), hearing.leak_at_most, after_none());
    for (std::uint32_t position = 0; position < hearing.path.size(); ++position) {
      const std::uint32_t fault = hearing.path[position];
      on_path_[belief.heard_place[fault]] = position;
      before_draw(after_none(), at_most[fault], after_one(position));
    }
  }

  void multiply(std::span<const std::uint32_t> members, std::span<double> weights) {
    if (members.size() < 2) {
      const double none = after_none()[0];
      weights[0] *= none;
      if (members.empty()) return;
      const std::uint32_t only = on_path_[members[0]];
      weights[1] *= only == kNotHeard ? none : after_one(only)[0];
      return;
    }
    if (buffer_.size() < members.size() * severities_) buffer_.resize(members.size() * severities_);
    multiply(members, weights, 0, 0, 0, after_none());
  }

 private:
  double* row(std::size_t number) { return rows_.data() + number * severities_; }
  double* after_none() { return row(0); }  // likelihoods with only the leak
  double* after_one(std::uint32_t position) { return row(1 + position); }  // it shows
  const std::vector<double>& draw(std::uint32_t position) { return at_most_[path_[position]]; }

  // `likelihood`: of the report, by the worst severity of all that is not yet decided; `showing`:
  // how many members are in it.
  void multiply(std::span<const std::uint32_t> members, std::span<double> weights,
                std::size_t member, std::size_t mask, std::size_t showing,
                const double* likelihood) {
    if (member + 2 == members.size()) {
      multiply_last_two(members, weights, mask, showing, likelihood);
      return;
    }
    multiply(members, weights, member + 1, mask, showing, likelihood);
    const std::size_t with_member = mask | (std::size_t{1} << member);
    const std::uint32_t position = on_path_[members[member]];
    if (position == kNotHeard) {
      multiply(members, weights, member + 1, with_member, showing, likelihood);
    } else {
      multiply(members, weights, member + 1, with_member, showing + 1,
               earlier(position, member, showing, likelihood));
    }
  }

  // The likelihoods before this fault draws as well; into the member's own row of the buffer.
  const double* earlier(std::uint32_t position, std::size_t member, std::size_t showing,
                        const double* likelihood) {
    if (showing == 0) return after_one(position);
    double* before = buffer_.data() + member * severities_;
    before_draw(likelihood, draw(position), before);
    return before;
  }

  double with_one(std::uint32_t position, std::size_t showing, const double* likelihood) {
    if (position == kNotHeard) return likelihood[0];
    return showing == 0 ? after_one(position)[0] : before_last(likelihood, draw(position));
  }

  // The four ways of the last two members at once: most of the time goes into them.
  void multiply_last_two(std::span<const std::uint32_t> members, std::span<double> weights,
                         std::size_t mask, std::size_t showing, const double* likelihood) {
    const std::size_t last = members.size() - 1;
    const std::uint32_t first = on_path_[members[last - 1]];
    const std::uint32_t second = on_path_[members[last]];
    const double of_first = with_one(first, showing, likelihood);
    const double of_second = with_one(second, showing, likelihood);
    double both = of_first;
    if (second != kNotHeard) {
      both = first == kNotHeard
                 ? of_second
                 : before_last(earlier(second, last, showing, likelihood), draw(first));
    }
    const std::size_t with_first = mask | (std::size_t{1} << (last - 1));
    const std::size_t second_bit = std::size_t{1} << last;
    weights[mask] *= likelihood[0];
    weights[with_first] *= of_first;
    weights[mask | second_bit] *= of_second;
    weights[with_first | second_bit] *= both;
  }

  std::size_t severities_;
  std::vector<std::uint32_t> on_path_;  // by heard place: position on the path, or kNotHeard
  const std::vector<std::uint32_t>& path_;
  const std::vector<std::vector<double>>& at_most_;  // by fault
  std::vector<double> rows_;                         // [row][severity]
  std::vector<double> buffer_;                       // [member][severity]
};

}  // namespace

double FaultBelief::join(const std::vector<std::uint32_t>& faults, std::size_t most_present) {
  const auto is_heard = [&](std::uint32_t fault) { return heard_place[fault] != kNotHeard; };
  if (std::all_of(faults.begin(), faults.end(), is_heard)) return 0;
  constexpr double kLikely = .5;  // absent factors from here on are multiplied in at the end, once
  std::vector<std::size_t> open;  // sets that can still grow
  std::vector<double> weight_of_size(most_present + 1, 0);
  for (std::size_t set = 0; set < sets.size(); ++set) {
    const std::size_t size = sets.members(set).size();
    if (size < most_present) open.push_back(set);
    weight_of_size[size] += sets.weight(set);
  }
  double all_absent = 1;
  double lost = 0;
  for (const std::uint32_t fault : faults) {
    if (is_heard(fault)) continue;
    const auto place = static_cast<std::uint32_t>(heard.size());
    heard.push_back(fault);
    heard_place[fault] = place;
    const double absent = alone[fault][kAbsent];
    const double present = alone[fault][kQuiet] + alone[fault][kShowing];
    if (present == 0) continue;
    lost += weight_of_size[most_present] * present;
    for (std::size_t size = most_present; size > 0; --size) {
      weight_of_size[size] = weight_of_size[size] * absent + weight_of_size[size - 1] * present;
    }
    weight_of_size[0] *= absent;
    const double later = absent >= kLikely ? absent : 1;
    all_absent *= later;
    const std::size_t smaller = sets.size();
    grow(open, place, alone[fault][kQuiet] / later, alone[fault][kShowing] / later, most_present);
    if (later == 1) sets.multiply(0, smaller, absent);
  }
  sets.multiply(0, sets.size(), all_absent);
  return lost;
}

void FaultBelief::grow(std::vector<std::size_t>& open, std::uint32_t place, double quiet,
                       double showing, std::size_t most_present) {
  const std::size_t count = open.size();
  for (std::size_t position = 0; position < count; ++position) {
    const std::size_t larger = sets.add_with(open[position], place);
    const std::span<const double> from = sets.weights(open[position]);
    const std::span<double> to = sets.weights(larger);
    for (std::size_t mask = 0; mask < from.size(); ++mask) {
      to[mask] = from[mask] * quiet;
      to[mask + from.size()] = from[mask] * showing;  // the new member has the top bit
    }
    if (sets.members(larger).size() < most_present) open.push_back(larger);
  }
}

double FaultBelief::move(const std::vector<Transition>& transitions, std::size_t most_present) {
  if (transitions.empty()) return 0;
  double lost = 0;
  std::vector<const StateMatrix*> inside(heard.size(), nullptr);
  for (const Transition& transition : transitions) {
    const std::uint32_t place = heard_place[transition.fault];
    const StateMatrix& matrix = transition.matrix;
    if (place == kNotHeard) {
      alone[transition.fault] = moved(alone[transition.fault], matrix);
    } else if (matrix[kAbsent][kAbsent] == 1 && matrix[kQuiet][kAbsent] == 0 &&
               matrix[kShowing][kAbsent] == 0) {
      inside[place] = &matrix;
    } else if (matrix[kAbsent][kAbsent] == 1) {
      cure(place, matrix);
    } else {
      lost += move_across(place, matrix, most_present);
    }
  }
  for (std::size_t set = 0; set < sets.size(); ++set) {
    const auto members = sets.members(set);
    for (std::size_t position = 0; position < members.size(); ++position) {
      const StateMatrix* matrix = inside[members[position]];
      if (matrix != nullptr) move_inside(sets.weights(set), position, *matrix);
    }
  }
  return lost;
}

// What moves by a repair: only sets with the fault lose anything, each to the one without it.
void FaultBelief::cure(std::uint32_t place, const StateMatrix& matrix) {
  SetIndex index(sets);
  const std::size_t count = sets.size();
  for (std::size_t set = 0; set < count; ++set) {
    const std::size_t position = position_of(sets.members(set), place);
    if (position == sets.members(set).size()) continue;
    const std::vector<std::uint32_t> others = without(sets.members(set), place);
    std::size_t smaller = index.find(sets, others);
    if (smaller == SetIndex::kNone) {
      smaller = sets.add(others);
      index.added(sets, smaller);
    }
    move_between(sets.weights(smaller), sets.weights(set), position, matrix);
  }
}

double FaultBelief::move_across(std::uint32_t place, const StateMatrix& matrix,
                                std::size_t most_present) {
  const double birth = matrix[kAbsent][kQuiet] + matrix[kAbsent][kShowing];
  const bool cures = matrix[kQuiet][kAbsent] > 0 || matrix[kShowing][kAbsent] > 0;
  // First every set that weight will move to, then the moves, pair by pair.
  SetIndex index(sets);
  const std::size_t count = sets.size();
  for (std::size_t set = 0; set < count; ++set) {
    const auto members = sets.members(set);
    const bool inside = position_of(members, place) < members.size();
    if (inside ? !cures : (birth == 0 || members.size() >= most_present)) continue;
    const std::vector<std::uint32_t> other =
        inside ? without(members, place) : with(members, place);
    if (index.find(sets, other) == SetIndex::kNone) index.added(sets, sets.add(other));
  }
  double lost = 0;
  for (std::size_t set = 0; set < sets.size(); ++set) {
    const auto members = sets.members(set);
    const std::size_t position = position_of(members, place);
    if (position < members.size()) {
      // Alone only where nothing is cured: else its smaller set exists and moves them both.
      if (!cures && index.find(sets, without(members, place)) == SetIndex::kNone) {
        move_inside(sets.weights(set), position, matrix);
      }
      continue;
    }
    if (members.size() < most_present) {
      const std::vector<std::uint32_t> larger_members = with(members, place);
      const std::size_t larger = index.find(sets, larger_members);
      if (larger != SetIndex::kNone) {
        move_between(sets.weights(set), sets.weights(larger), position_of(larger_members, place),
                     matrix);
        continue;
      }
    }
    lost += sets.weight(set) * birth;
    for (double& weight : sets.weights(set)) weight *= matrix[kAbsent][kAbsent];
  }
  return lost;
}

void FaultBelief::hear(const Hearing& hearing, const std::vector<std::vector<double>>& at_most) {
  ReportLikelihood likelihood(*this, hearing, at_most);
  for (std::size_t set = 0; set < sets.size(); ++set) {
    likelihood.multiply(sets.members(set), sets.weights(set));
  }
}

}  // namespace whichlink::belief
