#pragma once

#include "search/bounds.h"

namespace whichlink::search {

struct Answer {
  double lower = 0;        ///< no plan costs less
  double upper = 0;        ///< what the plan that was found costs
  std::size_t action = 0;  ///< its first action
  std::size_t backups = 0;
  [[nodiscard]] double gap() const { return upper - lower; }
};

/// Grows both bounds together along the beliefs that a good plan reaches: heuristic search value
/// iteration (Smith & Simmons, UAI 2004 and 2005, from memory), for costs without discount. The
/// same process and budget always give the same answer. The process must outlive it.
class Search {
 public:
  explicit Search(const Process& process);

  /// Goes on until the gap at the start is at most `gap`, or so many backups were made in all.
  void refine(double gap, std::size_t most_backups);
  /// At the start.
  [[nodiscard]] Answer answer() const;
  /// At any belief that adds up to 1.
  [[nodiscard]] Answer answer_at(const Belief& belief) const;

 private:
  void explore(const Belief& belief, double gap, std::size_t depth, std::size_t most_backups);
  void back_up(const Belief& belief);
  [[nodiscard]] double lower_of(const Belief& belief, std::size_t action,
                                const std::vector<Belief>& left) const;

  const Process& process_;
  LowerBound lower_;
  UpperBound upper_;
  std::size_t backups_ = 0;
};

}  // namespace whichlink::search
