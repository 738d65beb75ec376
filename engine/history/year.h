#pragma once

#include <string>
#include <vector>

#include "faults/rules.h"
#include "record/entries.h"

namespace whichlink::history {

/// What a record has of one installation, for one year.
struct YearRecord {
  int year = 0;
  std::vector<record::CaseStory> cases;   ///< opened in that year
  std::vector<record::CheckHead> checks;  ///< of that year, and those before it that still count
  std::vector<record::Session> sessions;  ///< of that year
};

/// Faults of one class of element.
struct ClassOfYear {
  std::string name;       ///< "crossed plugs" and "not listed" among them
  double faults = 0;      ///< expected number: the sum of the chances of causes
  double minutes = 0;     ///< of isolating, shared out by the chances of a case's causes
  std::size_t cases = 0;  ///< in which it was believed with kBelieved or more
};
constexpr double kBelieved = .05;

struct MonthOfYear {
  std::size_t cases = 0;  ///< opened in it
  double minutes = 0;     ///< of the moves of these cases
};

/// How regularly a list of the routine check was gone through. On a day of use (one with a session
/// on record) a list is on time if a check that holds it, and that was ended, was begun on that day
/// or less than its `every_days` before.
struct ListOfYear {
  std::string name;
  std::size_t checks = 0;  ///< of that list itself, ended
  std::size_t days_of_use = 0;
  std::size_t on_time = 0;  ///< of these days
};

struct Year {
  int year = 0;
  std::size_t cases = 0, mended = 0, nothing_found = 0, handed_over = 0, open = 0;
  std::size_t sessions = 0;
  double minutes = 0;                ///< of all moves
  std::vector<ClassOfYear> classes;  ///< most faults first
  std::vector<MonthOfYear> months;   ///< twelve
  std::vector<ListOfYear> lists;     ///< of the rules, in their order; none without a routine
};

[[nodiscard]] Year year_of(const faults::Rules& rules, const YearRecord& record);

}  // namespace whichlink::history
