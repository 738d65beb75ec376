// Reads a question into numbers, and the sums over the sets into a forecast.

#include <algorithm>
#include <numeric>
#include <utility>

#include "belief/forecaster.h"
#include "belief/two_doubles.h"
#include "belief/worst.h"

namespace whichlink::belief {
namespace {

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

MemberMove member_move_of(const StateMatrix& matrix, bool on_path) {
  MemberMove move;
  move.can_be_cured = matrix[kQuiet][kAbsent] > 0 || matrix[kShowing][kAbsent] > 0;
  move.can_appear = matrix[kAbsent][kQuiet] > 0 || matrix[kAbsent][kShowing] > 0;
  for (std::size_t before = 0; before < 2; ++before) {
    const StateVector& row = matrix[before == 0 ? kQuiet : kShowing];
    const double shows = on_path ? row[kShowing] : 0;
    const double quiet = row[kQuiet] + (on_path ? 0 : row[kShowing]);
    move.any.still[before] = row[kAbsent] + quiet;
    move.any.shows[before] = shows;
    move.present.still[before] = quiet;
    move.present.shows[before] = shows;
    move.absent.still[before] = row[kAbsent];
    move.absent.shows[before] = 0;
  }
  return move;
}

}  // namespace

Forecast SetBelief::forecast(const Question& question, const std::vector<bool>& about) const {
  return {outcomes(question, about), bits(question)};
}

Wanted wanted(const std::vector<bool>& mask) {
  Wanted some{{}, std::vector<std::uint32_t>(mask.size(), Wanted::kNot)};
  for (std::uint32_t fault = 0; fault < mask.size(); ++fault) {
    if (!mask[fault]) continue;
    some.place[fault] = static_cast<std::uint32_t>(some.faults.size());
    some.faults.push_back(fault);
  }
  return some;
}

std::vector<Outcome> SetBelief::outcomes(const Question& question,
                                         const std::vector<bool>& about) const {
  Forecaster forecaster;
  const ReadQuestion read(question, *network_);
  forecast(read, about, wanted(std::vector<bool>(network_->faults(), true)), forecaster);
  return forecaster.outcomes();
}

void SetBelief::forecast(const ReadQuestion& read, const std::vector<bool>& about,
                         const Wanted& wanted, Forecaster& into) const {
  into.start(belief_, read, about);
  into.run(true, false);
  into.sum_up(wanted);
}

double SetBelief::bits(const Question& question) const {
  Forecaster buffers;
  return bits(ReadQuestion(question, *network_), buffers);
}

double SetBelief::bits(const ReadQuestion& read, Forecaster& buffers) const {
  const std::vector<bool> about_none(network_->faults());
  const auto over_sets_of = [&](const FaultBelief& belief) {
    buffers.start(belief, read, about_none);
    buffers.run(false, true);
    return buffers.bits();
  };
  const std::vector<std::uint32_t>& path = read.question().path;
  if (has_heard(path)) return over_sets_of(belief_);
  return over_sets_of(with_path_heard(belief_, path, most_present_));
}

bool SetBelief::has_heard(const std::vector<std::uint32_t>& path) const {
  return std::all_of(path.begin(), path.end(),
                     [&](std::uint32_t fault) { return belief_.heard_place[fault] != kNotHeard; });
}

ReadQuestion::ReadQuestion(Question question, const Network& network)
    : question_(std::move(question)), width_(even(question_.leak_at_most.size())), leak_(width_) {
  const std::vector<std::vector<double>>& at_most = network.at_most[question_.sense];
  path_position_.assign(network.faults(), kNowhere);
  transition_.assign(network.faults(), kNowhere);
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
  std::vector<std::pair<const StateMatrix*, bool>> known;  // as moves_
  for (std::uint32_t fault = 0; fault < network.faults(); ++fault) {
    const StateMatrix& matrix = this->matrix(fault);
    const bool on_path = path_position_[fault] != kNowhere;
    const auto found = std::find_if(known.begin(), known.end(), [&](const auto& one) {
      return one.second == on_path && *one.first == matrix;
    });
    move_of_.push_back(static_cast<std::uint32_t>(found - known.begin()));
    if (found != known.end()) continue;
    known.emplace_back(&matrix, on_path);
    moves_.push_back(member_move_of(matrix, on_path));
  }
  const std::size_t stride = even(outcomes());
  report_.assign(severities() * stride, 0);
  for (std::size_t severity = 0; severity < severities(); ++severity) {
    std::copy(question_.report[severity].begin(), question_.report[severity].end(),
              report_.begin() + static_cast<std::ptrdiff_t>(severity * stride));
  }
  severity_chances(question_.leak_at_most, leak_.data());
  for (const std::vector<double>& row : question_.report) {
    double bits = 0;
    for (const double chance : row) bits -= times_log2(chance);
    noise_.push_back(bits);
  }
}

void Forecaster::start(const FaultBelief& belief, const ReadQuestion& read,
                       const std::vector<bool>& about) {
  belief_ = &belief;
  read_ = &read;
  about_ = &about;
  severities_ = read.severities();
  outcomes_ = read.outcomes();
  width_ = read.width();
  for (std::vector<double>* row :
       {&rest_worst_, &total_, &none_, &worst_, &heard_, &other_, &rest_buffer_, &before_}) {
    row->assign(width_, 0);
  }
  rest_.clear();
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
  vectors_.assign(cells_.size() * width_, 0);
  without_.clear();
  present_.assign(belief.heard.size() * width_, 0);
  common_.used = true;
  common_.worst.assign(width_, 0);
  common_.none.assign(width_, 0);
}

void Forecaster::add_members() {
  members_.assign(belief_->heard.size(), {});
  for (std::size_t place = 0; place < belief_->heard.size(); ++place) {
    const std::uint32_t fault = belief_->heard[place];
    Member& member = members_[place];
    member.about = (*about_)[fault];
    member.move = &read_->member_move(fault);
    member.draw = read_->draw(fault);
    if (member.move->can_appear) {
      member.rest = rest_.size();
      rest_.push_back({fault, read_->matrix(fault)[kAbsent], member.draw, member.about});
    }
  }
}

void Forecaster::add_newly_heard() {
  for (const std::uint32_t fault : read_->question().path) {
    if (belief_->heard_place[fault] != kNotHeard) continue;
    rest_.push_back({fault, moved(belief_->alone[fault], read_->matrix(fault)), read_->draw(fault),
                     (*about_)[fault]});
  }
}

void Forecaster::prepare_rest() {
  const std::size_t count = rest_.size();
  rest_draws_.assign(count * width_, 0);
  rest_worst_without_.assign(count * width_, 0);
  rest_present_.assign(count * width_, 0);
  behind_.assign((count + 1) * width_, 0);
  but_one_.resize(count);
  for (Group& group : but_one_) group.used = false;
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

double Forecaster::noise() const {
  double bits = 0;
  double total = 0;
  for (std::size_t severity = 0; severity < severities_; ++severity) {
    bits += total_[severity] * read_->noise()[severity];
    total += total_[severity];
  }
  return bits / total;
}

void Forecaster::put_report_of(const double* worst, std::vector<double>& by_outcome) const {
  by_outcome.assign(even(outcomes_), 0);
  for (std::size_t severity = 0; severity < severities_; ++severity) {
    add_times(read_->report(severity), worst[severity], by_outcome.size(), by_outcome.data());
  }
}

double Forecaster::settle(const Wanted& wanted) {
  const auto depends = [&](std::uint32_t fault) {
    return belief_->heard_place[fault] != kNotHeard || read_->draw(fault) != nullptr;
  };
  wanted_ = wanted.faults.size();
  present_after_.assign(outcomes_ * wanted_, 0);
  for (std::size_t place = 0; place < wanted_; ++place) {
    const std::uint32_t fault = wanted.faults[place];
    if (depends(fault)) continue;
    const StateVector after = moved(belief_->alone[fault], read_->matrix(fault));
    for (std::size_t outcome = 0; outcome < outcomes_; ++outcome) {
      present_after_[outcome * wanted_ + place] = after[kQuiet] + after[kShowing];
    }
  }
  double none = 1;
  for (std::uint32_t fault = 0; fault < about_->size(); ++fault) {
    if (!(*about_)[fault] || depends(fault)) continue;
    none *= moved(belief_->alone[fault], read_->matrix(fault))[kAbsent];
  }
  return none;
}

// Given the report; where that is impossible, given any.
void Forecaster::sum_up_present(std::uint32_t fault, const double* worst, const Wanted& wanted) {
  const std::uint32_t place = wanted.place[fault];
  if (place == Wanted::kNot) return;
  if (std::all_of(worst, worst + severities_, [](double chance) { return chance == 0; })) return;
  put_report_of(worst, joint_);
  for (std::size_t outcome = 0; outcome < outcomes_; ++outcome) {
    const bool can_be = chance_[outcome] > 0;
    const double present = can_be
                               ? joint_[outcome] / chance_[outcome]
                               : std::accumulate(joint_.begin(), joint_.end(), 0.0) / chance_all_;
    double& sum = present_after_[outcome * wanted_ + place];
    sum = std::min(1.0, sum + present);
  }
}

void Forecaster::sum_up(const Wanted& wanted) {
  const double none_settled = settle(wanted);
  put_report_of(total_.data(), chance_);
  chance_all_ = std::accumulate(chance_.begin(), chance_.end(), 0.0);
  put_report_of(none_.data(), joint_);
  const double any = std::accumulate(joint_.begin(), joint_.end(), 0.0);
  none_present_.resize(outcomes_);
  for (std::size_t outcome = 0; outcome < outcomes_; ++outcome) {
    const bool can_be = chance_[outcome] > 0;
    const double none = can_be ? joint_[outcome] / chance_[outcome] : any / chance_all_;
    none_present_[outcome] = std::min(1.0, none) * none_settled;
  }
  for (std::size_t place = 0; place < belief_->heard.size(); ++place) {
    sum_up_present(belief_->heard[place], present_.data() + place * width_, wanted);
  }
  for (std::size_t rest = 0; rest < rest_.size(); ++rest) {
    sum_up_present(rest_[rest].fault, rest_present_.data() + rest * width_, wanted);
  }
}

std::vector<Outcome> Forecaster::outcomes() const {
  std::vector<Outcome> results;
  results.reserve(outcomes_);
  for (std::size_t outcome = 0; outcome < outcomes_; ++outcome) {
    const std::span<const double> some = present(outcome);
    results.push_back({chance(outcome), {some.begin(), some.end()}, none_present(outcome)});
  }
  return results;
}

}  // namespace whichlink::belief
