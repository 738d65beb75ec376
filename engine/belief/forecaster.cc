#include "belief/forecaster.h"

#include <algorithm>

#include "belief/two_doubles.h"
#include "belief/worst.h"

namespace whichlink::belief {
void Forecaster::run(bool with_marginals, bool with_bits) {
  if (with_bits) information_.start(read_->question().report);
  for (std::size_t set = 0; set < belief_->sets.size(); ++set) {
    const auto members = belief_->sets.members(set);
    const auto weights = belief_->sets.weights(set);
    const double* rest = visit(members, weights);
    if (with_bits) information_.add(heard_.data());
    if (!with_marginals) continue;
    add(heard_.data(), width_, total_.data());
    visit_members(members, weights, rest);
    add_to_group(members, weights);
  }
  if (!with_marginals) return;
  finish_group({}, common_);
  for (std::size_t rest = 0; rest < rest_.size(); ++rest) {
    if (but_one_[rest].used) finish_group({&rest, 1}, but_one_[rest]);
  }
}

const double* Forecaster::visit(std::span<const std::uint32_t> members,
                                std::span<const double> weights) {
  without_.clear();
  for (std::size_t member = 0; member < members.size(); ++member) {
    const Member& heard = members_[members[member]];
    views_[member] = &heard.move->any;
    if (heard.rest != kNoRest) without_.push_back(heard.rest);
  }
  const double* rest = silent_rest_ ? nullptr : rest_worst_.data();
  if (without_.size() == 1) {
    rest = rest_worst_without_.data() + without_[0] * width_;
  } else if (without_.size() > 1) {
    worst_of_rest(without_, rest_buffer_.data());
    rest = rest_buffer_.data();
  }
  worst_of_members(members, weights, worst_.data());
  worse_of_both(worst_.data(), rest, heard_.data());
  return rest;
}

void Forecaster::visit_members(std::span<const std::uint32_t> members,
                               std::span<const double> weights, const double* rest) {
  for (std::size_t member = 0; member < members.size(); ++member) {
    const Member& heard = members_[members[member]];
    double* present = present_.data() + members[member] * width_;
    if (!heard.move->can_be_cured) {
      add(heard_.data(), width_, present);
      continue;
    }
    views_[member] = &heard.move->present;
    worst_of_members(members, weights, other_.data());
    worse_of_both(other_.data(), rest, other_.data());
    add(other_.data(), width_, present);
    views_[member] = &heard.move->any;
  }
}

void Forecaster::add_to_group(std::span<const std::uint32_t> members,
                              std::span<const double> weights) {
  const double* none = worst_.data();
  for (std::size_t member = 0; member < members.size(); ++member) {
    const Member& heard = members_[members[member]];
    if (!heard.about) continue;
    views_[member] = &heard.move->absent;
    none = heard.move->can_be_cured && none != nullptr ? other_.data() : nullptr;
  }
  if (none == other_.data()) worst_of_members(members, weights, other_.data());

  const bool by_itself = without_.size() > 1;
  Group& group = without_.empty() ? common_ : by_itself ? alone_ : but_one_[without_[0]];
  if (by_itself || !group.used) {
    group.used = true;
    group.worst.assign(width_, 0);
    group.none.assign(width_, 0);
  }
  if (!rest_.empty()) add(worst_.data(), width_, group.worst.data());
  if (none != nullptr) add(none, width_, group.none.data());
  if (by_itself) finish_group(without_, group);
}

// The faults of the rest one by one: the worst of all others in front (with the members and the
// leak) and behind, then this one itself.
void Forecaster::finish_group(std::span<const std::size_t> without, const Group& group) {
  const auto left_out = [&](std::size_t rest) {
    return std::find(without.begin(), without.end(), rest) != without.end();
  };
  const std::size_t count = rest_.size();
  double* behind = behind_.data();
  std::fill(behind_.begin(), behind_.end(), 0.0);
  behind[count * width_] = 1;
  for (std::size_t rest = count; rest-- > 0;) {
    double* here = behind + rest * width_;
    if (left_out(rest)) {
      std::copy_n(here + width_, width_, here);
    } else {
      worse_of(here + width_, rest_draws_.data() + rest * width_, severities_, here);
    }
  }
  std::vector<double>& before = before_;
  std::vector<double>& none = rest_buffer_;
  worse_of(group.worst.data(), read_->leak().data(), severities_, before.data());
  worse_of(group.none.data(), read_->leak().data(), severities_, none.data());
  for (std::size_t rest = 0; rest < count; ++rest) {
    if (left_out(rest)) continue;
    const Rest& fault = rest_[rest];
    const double* draw = rest_draws_.data() + rest * width_;
    double* present = rest_present_.data() + rest * width_;
    worse_of(before.data(), behind + (rest + 1) * width_, severities_, other_.data());
    if (fault.draw != nullptr) {
      worse_of(other_.data(), fault.draw, severities_, heard_.data());
    } else {
      std::copy(other_.begin(), other_.end(), heard_.begin());
    }
    for (std::size_t severity = 0; severity < severities_; ++severity) {
      present[severity] +=
          fault.after[kQuiet] * other_[severity] + fault.after[kShowing] * heard_[severity];
    }
    worse_of(before.data(), draw, severities_, before.data());
    if (fault.about) {
      for (double& chance : none) chance *= fault.after[kAbsent];
    } else {
      worse_of(none.data(), draw, severities_, none.data());
    }
  }
  add(none.data(), width_, none_.data());
}

// First the moves, one member at a time: a member that is not on the path folds away, the others
// keep one bit, showing or not. Then the draws, one member at a time.
void Forecaster::worst_of_members(std::span<const std::uint32_t> members,
                                  std::span<const double> weights, double* worst) {
  if (members.size() == 2 && move_pair(members, weights)) {
    draw_pair(members_[members[0]].draw, members_[members[1]].draw, worst);
    return;
  }
  std::copy(weights.begin(), weights.end(), cells_.begin());
  std::size_t count = weights.size();
  std::size_t on_path = 0;
  for (std::size_t member = members.size(); member-- > 0;) {
    const View& view = *views_[member];
    const std::size_t half = std::size_t{1} << member;
    const double* draw = members_[members[member]].draw;
    if (draw == nullptr) {
      // In place: what is written lies at or before what is still to be read.
      std::size_t to = 0;
      for (std::size_t block = 0; block < count; block += 2 * half) {
        for (std::size_t low = block; low < block + half; ++low) {
          cells_[to++] = cells_[low] * view.still[0] + cells_[low + half] * view.still[1];
        }
      }
      count /= 2;
      continue;
    }
    on_path_[on_path++] = draw;
    for (std::size_t block = 0; block < count; block += 2 * half) {
      for (std::size_t low = block; low < block + half; ++low) {
        const double quiet = cells_[low];
        const double showing = cells_[low + half];
        cells_[low] = quiet * view.still[0] + showing * view.still[1];
        cells_[low + half] = quiet * view.shows[0] + showing * view.shows[1];
      }
    }
  }
  draw_members({on_path_.data(), on_path}, worst);
}

// The usual case at full speed. False, and nothing done, if not both are on the path.
bool Forecaster::move_pair(std::span<const std::uint32_t> members,
                           std::span<const double> weights) {
  if (members_[members[0]].draw == nullptr || members_[members[1]].draw == nullptr) return false;
  const View& first = *views_[0];
  const View& second = *views_[1];
  const double quiet_still = weights[0] * second.still[0] + weights[2] * second.still[1];
  const double quiet_shows = weights[0] * second.shows[0] + weights[2] * second.shows[1];
  const double showing_still = weights[1] * second.still[0] + weights[3] * second.still[1];
  const double showing_shows = weights[1] * second.shows[0] + weights[3] * second.shows[1];
  cells_[0] = quiet_still * first.still[0] + showing_still * first.still[1];
  cells_[1] = quiet_still * first.shows[0] + showing_still * first.shows[1];
  cells_[2] = quiet_shows * first.still[0] + showing_shows * first.still[1];
  cells_[3] = quiet_shows * first.shows[0] + showing_shows * first.shows[1];
  return true;
}

void Forecaster::draw_members(std::span<const double* const> draws, double* worst) {
  if (draws.empty()) {
    std::fill_n(worst, width_, 0.0);
    worst[0] = cells_[0];
    return;
  }
  if (draws.size() == 1) {
    const TwoDoubles shows{cells_[1], cells_[1]};
    for (std::size_t severity = 0; severity < width_; severity += 2) {
      store(shows * load(draws[0] + severity), worst + severity);
    }
    worst[0] += cells_[0];
    return;
  }
  if (draws.size() == 2) {
    draw_pair(draws[1], draws[0], worst);
    return;
  }
  std::size_t half = std::size_t{1} << (draws.size() - 1);
  for (std::size_t cell = 0; cell < half; ++cell) {
    double* vector = vectors_.data() + cell * width_;
    const double showing = cells_[cell + half];
    for (std::size_t severity = 0; severity < severities_; ++severity) {
      vector[severity] = showing * draws[0][severity];
    }
    vector[0] += cells_[cell];
  }
  for (std::size_t folded = 1; folded < draws.size(); ++folded) {
    half /= 2;
    for (std::size_t cell = 0; cell < half; ++cell) {
      double* shown = vectors_.data() + (cell + half) * width_;
      worse_of(shown, draws[folded], severities_, shown);
      add(shown, width_, vectors_.data() + cell * width_);
    }
  }
  std::copy_n(vectors_.data(), severities_, worst);
}

// The usual case at full speed: each severity comes from the one, while the other is at most as
// bad, or from the other, while the one is less bad.
void Forecaster::draw_pair(const double* first, const double* second, double* worst) const {
  const double* second_up_to = second + width_;
  const double* first_below = first + 2 * width_;
  const TwoDoubles only_first{cells_[1], cells_[1]};
  const TwoDoubles only_second{cells_[2], cells_[2]};
  const TwoDoubles both{cells_[3], cells_[3]};
  for (std::size_t severity = 0; severity < width_; severity += 2) {
    const TwoDoubles from_first =
        load(first + severity) * (only_first + both * load(second_up_to + severity));
    const TwoDoubles from_second =
        load(second + severity) * (only_second + both * load(first_below + severity));
    store(from_first + from_second, worst + severity);
  }
  worst[0] += cells_[0];
}

void Forecaster::worst_of_rest(std::span<const std::size_t> without, double* worst) const {
  std::copy(read_->leak().begin(), read_->leak().end(), worst);
  for (std::size_t rest = 0; rest < rest_.size(); ++rest) {
    if (std::find(without.begin(), without.end(), rest) != without.end()) continue;
    worse_of(worst, rest_draws_.data() + rest * width_, severities_, worst);
  }
}

void Forecaster::worse_of_both(const double* members, const double* rest, double* worst) const {
  if (rest != nullptr) {
    worse_of(members, rest, severities_, worst);
  } else if (worst != members) {
    std::copy_n(members, width_, worst);
  }
}

}  // namespace whichlink::belief
