#pragma once

#include "search/bounds.h"

namespace whichlink::search {

struct Answer {
  double lower = 0;        ///< no plan costs less
  double upper = 0;        ///< what the plan that was found costs
  std::size_t choice = 0;  ///< its first, of the site's
  std::size_t backups = 0;
  [[nodiscard]] double gap() const { return upper - lower; }
};

/// Grows both bounds together along the beliefs that a good plan reaches: heuristic search value
/// iteration (Smith & Simmons, UAI 2004 and 2005, from memory), for costs without discount and
/// sites that are always known (Ong, Png, Hsu & Lee, IJRR 29, 2010, from memory). The same process
/// and budget always give the same answer. The process must outlive it.
class Search {
 public:
  explicit Search(const Process& process);

  /// The first call makes a few plans everywhere, whatever they take. Goes on until the gap at the
  /// start is at most `gap`, or so much work was done in all.
  /// @param most_work  numbers of beliefs and plans that are looked at; some hundred million a
  ///                   second
  void refine(double gap, std::size_t most_work);
  /// At the start.
  [[nodiscard]] Answer answer() const;
  /// At any belief that adds up to 1.
  [[nodiscard]] Answer answer_at(std::size_t site, BeliefView belief) const;

 private:
  void explore(std::size_t site, BeliefView belief, double gap, std::size_t depth,
               std::size_t most_work);
  void back_up(std::size_t site, BeliefView belief, const std::vector<Left>& lefts);
  void begin_plans();
  void improve_plan(std::size_t site, BeliefView belief, const std::vector<Left>& lefts);
  void add_plan(std::size_t site, std::size_t number, const Left& left);
  [[nodiscard]] std::vector<Left> after_each(std::size_t site, BeliefView belief) const;
  [[nodiscard]] std::size_t work_of(const std::vector<Left>& lefts) const;
  [[nodiscard]] double lower_of(const Choice& choice, BeliefView belief, const Left& left) const;
  [[nodiscard]] double upper_of(const Choice& choice, BeliefView belief, const Left& left) const;

  const Process& process_;
  LowerBound lower_;
  UpperBound upper_;
  bool begun_ = false;
  std::size_t backups_ = 0;
  std::size_t work_ = 0;
};

}  // namespace whichlink::search
