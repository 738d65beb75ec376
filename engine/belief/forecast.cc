// Reads a question into numbers, and the sums over the sets into a forecast.

#include <algorithm>

#include "belief/forecaster.h"
#include "belief/two_doubles.h"
#include "belief/worst.h"

namespace whichlink::belief {
namespace {

constexpr std::uint32_t kNowhere = static_cast<std::uint32_t>(-1);

/// The belief with every fault on the path in the sets, for the information only.
FaultBelief with_path_heard(const FaultBelief& belief, const std::vector<std::uint32_t>& path,
                            std::size_t most_present) {
  std::vector<std::size_t> sets_of_size(most_present + 1, 0);
  for (std::size_t set = 0; set < belief.sets.size(); ++set) {
    ++sets_of_size[belief.sets.members(set).size()];
  }
  std::size_t sets = belief.sets.size();
  for (const std::uint32_t fault : path) {
    if (belief.heard_place[fault] != kNotHeard || sets > kMostInformationSets) continue;
    for (std::size_t size = most_present; size-- > 0;) {
      sets_of_size[size + 1] += sets_of_size[size];
      sets += sets_of_size[size];
    }
  }
  const std::size_t most = sets > kMostInformationSets ? 1 : most_present;
  FaultBelief joined = belief;
  joined.join(path, most);
  return joined;
}

}  // namespace

Forecast SetBelief::forecast(const Question& question, const std::vector<bool>& about) const {
  return {outcomes(question, about), bits(question)};
}

std::vector<Outcome> SetBelief::outcomes(const Question& question,
                                         const std::vector<bool>& about) const {
  Forecaster forecaster(belief_, network_->at_most[question.sense], question, about);
  forecaster.run(true, false);
  return forecaster.outcomes();
}

double SetBelief::bits(const Question& question) const {
  const std::vector<bool> about_none(network_->faults());
  const auto over_sets_of = [&](const FaultBelief& belief) {
    Forecaster forecaster(belief, network_->at_most[question.sense], question, about_none);
    forecaster.run(false, true);
    return forecaster.bits();
  };
  const bool all_heard =
      std::all_of(question.path.begin(), question.path.end(),
                  [&](std::uint32_t fault) { return belief_.heard_place[fault] != kNotHeard; });
  if (all_heard) return over_sets_of(belief_);
  return over_sets_of(with_path_heard(belief_, question.path, most_present_));
}

Forecaster::Forecaster(const FaultBelief& belief, const std::vector<std::vector<double>>& at_most,
                       const Question& question, const std::vector<bool>& about)
    : belief_(belief),
      question_(question),
      about_(about),
      severities_(question.leak_at_most.size()),
      outcomes_(question.report[0].size()),
      width_(even(severities_)),
      leak_(width_),
      rest_worst_(width_),
      information_(question.report),
      total_(width_),
      none_(width_),
      worst_(width_),
      heard_(width_),
      other_(width_),
      rest_buffer_(width_),
      before_(width_) {
  read_question(at_most);
  add_members();
  add_newly_heard();
  prepare_rest();

  std::size_t largest = 0;
  for (std::size_t set = 0; set < belief.sets.size(); ++set) {
    largest = std::max(largest, belief.sets.members(set).size());
  }
  views_.resize(largest);
  on_path_.resize(largest);
  cells_.resize(std::size_t{1} << largest);
  vectors_.resize(cells_.size() * width_);
  without_.reserve(largest);
  present_.assign(belief.heard.size() * width_, 0);
  common_.used = true;
  common_.worst.assign(width_, 0);
  common_.none.assign(width_, 0);
}

void Forecaster::read_question(const std::vector<std::vector<double>>& at_most) {
  const std::size_t faults = belief_.alone.size();
  path_position_.assign(faults, kNowhere);
  transition_.assign(faults, kNowhere);
  draws_.resize(question_.path.size() * 3 * width_);
  for (std::uint32_t position = 0; position < question_.path.size(); ++position) {
    const std::uint32_t fault = question_.path[position];
    path_position_[fault] = position;
    double* draw = draws_.data() + std::size_t{3} * position * width_;
    severity_chances(at_most[fault], draw);
    std::copy(at_most[fault].begin(), at_most[fault].end(), draw + width_);
    std::copy(at_most[fault].begin(), at_most[fault].end() - 1, draw + 2 * width_ + 1);
  }
  for (std::uint32_t position = 0; position < question_.transitions.size(); ++position) {
    transition_[question_.transitions[position].fault] = position;
  }
  severity_chances(question_.leak_at_most, leak_.data());
}

const StateMatrix& Forecaster::matrix_of(std::uint32_t fault) const {
  const std::uint32_t position = transition_[fault];
  return position == kNowhere ? kIdentity : question_.transitions[position].matrix;
}

void Forecaster::add_members() {
  members_.resize(belief_.heard.size());
  for (std::size_t place = 0; place < belief_.heard.size(); ++place) {
    const std::uint32_t fault = belief_.heard[place];
    const StateMatrix& matrix = matrix_of(fault);
    Member& member = members_[place];
    member.about = about_[fault];
    member.can_be_cured = matrix[kQuiet][kAbsent] > 0 || matrix[kShowing][kAbsent] > 0;
    const bool on_path = path_position_[fault] != kNowhere;
    if (on_path) member.draw = draws_.data() + std::size_t{3} * path_position_[fault] * width_;
    for (std::size_t before = 0; before < 2; ++before) {
      const StateVector& row = matrix[before == 0 ? kQuiet : kShowing];
      const double shows = on_path ? row[kShowing] : 0;
      const double quiet = row[kQuiet] + (on_path ? 0 : row[kShowing]);
      member.any.still[before] = row[kAbsent] + quiet;
      member.any.shows[before] = shows;
      member.present.still[before] = quiet;
      member.present.shows[before] = shows;
      member.absent.still[before] = row[kAbsent];
      member.absent.shows[before] = 0;
    }
    if (matrix[kAbsent][kQuiet] > 0 || matrix[kAbsent][kShowing] > 0) {
      member.rest = rest_.size();
      rest_.push_back({fault, matrix[kAbsent], member.draw, member.about});
    }
  }
}

void Forecaster::add_newly_heard() {
  for (std::size_t position = 0; position < question_.path.size(); ++position) {
    const std::uint32_t fault = question_.path[position];
    if (belief_.heard_place[fault] != kNotHeard) continue;
    rest_.push_back({fault, moved(belief_.alone[fault], matrix_of(fault)),
                     draws_.data() + std::size_t{3} * position * width_, about_[fault]});
  }
}

void Forecaster::prepare_rest() {
  const std::size_t count = rest_.size();
  rest_draws_.assign(count * width_, 0);
  rest_worst_without_.assign(count * width_, 0);
  rest_present_.assign(count * width_, 0);
  behind_.assign((count + 1) * width_, 0);
  but_one_.resize(count);
  for (std::size_t rest = 0; rest < count; ++rest) {
    double* draw = rest_draws_.data() + rest * width_;
    const Rest& fault = rest_[rest];
    if (fault.draw == nullptr) {
      draw[0] = fault.after[kAbsent] + fault.after[kQuiet] + fault.after[kShowing];
      continue;
    }
    for (std::size_t severity = 0; severity < severities_; ++severity) {
      draw[severity] = fault.after[kShowing] * fault.draw[severity];
    }
    draw[0] += fault.after[kAbsent] + fault.after[kQuiet];
  }
  worst_of_rest({}, rest_worst_.data());
  silent_rest_ = std::all_of(rest_worst_.begin() + 1, rest_worst_.end(),
                             [](double chance) { return chance == 0; }) &&
                 rest_worst_[0] == 1;
  // Only faults in the sets can be asked for without: they come first.
  for (const Member& member : members_) {
    if (member.rest == kNoRest) continue;
    worst_of_rest({&member.rest, 1}, rest_worst_without_.data() + member.rest * width_);
  }
}

void Forecaster::add_report_of(const double* worst, double* by_outcome) const {
  for (std::size_t severity = 0; severity < severities_; ++severity) {
    for (std::size_t outcome = 0; outcome < outcomes_; ++outcome) {
      by_outcome[outcome] += worst[severity] * question_.report[severity][outcome];
    }
  }
}

std::vector<Outcome> Forecaster::outcomes() const {
  const std::size_t faults = belief_.alone.size();
  // What does not depend on the report: the faults that are neither in the sets nor on the path.
  std::vector<double> settled(faults, 0);
  double none_settled = 1;
  for (std::uint32_t fault = 0; fault < faults; ++fault) {
    if (belief_.heard_place[fault] != kNotHeard || path_position_[fault] != kNowhere) continue;
    const StateVector after = moved(belief_.alone[fault], matrix_of(fault));
    settled[fault] = after[kQuiet] + after[kShowing];
    if (about_[fault]) none_settled *= after[kAbsent];
  }
  // Joint chances with each report, and with any report (the last) for those that are impossible.
  const std::size_t any = outcomes_;
  const auto by_report = [&](const double* worst, std::vector<double>& chances) {
    std::fill(chances.begin(), chances.end(), 0.0);
    add_report_of(worst, chances.data());
    for (std::size_t outcome = 0; outcome < outcomes_; ++outcome) chances[any] += chances[outcome];
  };
  std::vector<double> chance(outcomes_ + 1);
  std::vector<double> joint(outcomes_ + 1);
  by_report(total_.data(), chance);
  const auto row = [&](std::size_t outcome) { return chance[outcome] > 0 ? outcome : any; };
  std::vector<Outcome> results(outcomes_);
  by_report(none_.data(), joint);
  for (std::size_t outcome = 0; outcome < outcomes_; ++outcome) {
    Outcome& result = results[outcome];
    result.chance = chance[outcome] / chance[any];
    const double none = joint[row(outcome)] / chance[row(outcome)];
    result.none_present = std::min(1.0, none) * none_settled;
    result.present = settled;
  }
  const auto add_present = [&](std::uint32_t fault, const double* worst) {
    by_report(worst, joint);
    for (std::size_t outcome = 0; outcome < outcomes_; ++outcome) {
      double& present = results[outcome].present[fault];
      present = std::min(1.0, present + joint[row(outcome)] / chance[row(outcome)]);
    }
  };
  for (std::size_t place = 0; place < belief_.heard.size(); ++place) {
    add_present(belief_.heard[place], present_.data() + place * width_);
  }
  for (std::size_t rest = 0; rest < rest_.size(); ++rest) {
    add_present(rest_[rest].fault, rest_present_.data() + rest * width_);
  }
  return results;
}

}  // namespace whichlink::belief
