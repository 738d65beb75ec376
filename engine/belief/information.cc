#include "belief/information.h"

#include <algorithm>
#include <array>

#include "belief/two_doubles.h"

namespace whichlink::belief {

void Information::start(const std::vector<std::vector<double>>& report) {
  severities_ = report.size();
  entries_.clear();
  entries_end_.clear();
  for (std::size_t outcome = 0; outcome < report[0].size(); ++outcome) {
    for (std::size_t severity = 0; severity < severities_; ++severity) {
      const double chance = report[severity][outcome];
      if (chance > 0) entries_.push_back({severity, chance});
    }
    entries_end_.push_back(entries_.size());
  }
  worst_.resize(severities_ * kBlock);
  in_block_ = 0;
  outcome_chance_.assign(report[0].size(), 0.0);
  joint_ = 0;
  sets_ = 0;
}

void Information::add(const double* worst) {
  double* column = worst_.data() + in_block_;
  for (std::size_t severity = 0; severity < severities_; ++severity) {
    column[severity * kBlock] = worst[severity];
  }
  if (++in_block_ == kBlock) finish_block();
}

void Information::finish_block() {
  for (std::size_t severity = 0; severity < severities_; ++severity) {
    double* row = worst_.data() + severity * kBlock;
    std::fill(row + in_block_, row + kBlock, 0.0);
  }
  in_block_ = 0;
  std::array<double, kBlock> joint{};
  std::array<double, kBlock> set{};
  std::size_t at = 0;
  for (std::size_t outcome = 0; outcome < entries_end_.size(); ++outcome) {
    joint.fill(0);
    for (; at < entries_end_[outcome]; ++at) {
      const Entry& entry = entries_[at];
      add_times(worst_.data() + entry.severity * kBlock, entry.chance, kBlock, joint.data());
    }
    belief::add(joint.data(), kBlock, set.data());
    outcome_chance_[outcome] += sum(joint.data(), kBlock);
    joint_ += sum_times_log2(joint.data(), kBlock);
  }
  sets_ += sum_times_log2(set.data(), kBlock);
}

double Information::bits() {
  finish_block();
  double total = 0;
  double outcomes = 0;
  for (const double chance : outcome_chance_) {
    total += chance;
    outcomes += times_log2(chance);
  }
  return std::max(0.0, (joint_ - sets_ - outcomes + times_log2(total)) / total);
}

}  // namespace whichlink::belief
