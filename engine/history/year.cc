#include "history/year.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/moment.h"

namespace whichlink::history {
namespace {

constexpr std::size_t kMonths = 12;

/// "socket" of "socket: tarnish"; what is of no class as it is.
std::string class_of_mode(const std::string& mode) {
  return mode.substr(0, mode.find(": "));
}

double day_number(const std::string& moment) {
  return std::floor(moment_from(day_of(moment))->days);
}

std::size_t month_index(const std::string& moment) {
  constexpr std::size_t kAt = 5;
  const std::size_t month = std::stoul(moment.substr(kAt, 2));
  return std::clamp<std::size_t>(month, 1, kMonths) - 1;
}

ClassOfYear& class_named(Year& year, const std::string& name) {
  const auto found = std::find_if(year.classes.begin(), year.classes.end(),
                                  [&](const ClassOfYear& one) { return one.name == name; });
  if (found != year.classes.end()) return *found;
  year.classes.push_back({name, 0, 0, 0});
  return year.classes.back();
}

void add_causes(Year& year, const record::CaseStory& story) {
  double all = 0;
  for (const record::Cause& cause : story.end.causes) all += cause.chance;
  std::set<std::string> believed;
  for (const record::Cause& cause : story.end.causes) {
    const std::string name = class_of_mode(cause.mode);
    ClassOfYear& one = class_named(year, name);
    one.faults += cause.chance;
    if (all > 0) one.minutes += story.head.minutes * cause.chance / all;
    if (cause.chance >= kBelieved && believed.insert(name).second) ++one.cases;
  }
}

void add_case(Year& year, const record::CaseStory& story) {
  const record::CaseHead& head = story.head;
  ++year.cases;
  if (head.ending == "mended") ++year.mended;
  if (head.ending == "nothing found") ++year.nothing_found;
  if (head.ending == "handed over") ++year.handed_over;
  if (head.ending == record::kOpen) ++year.open;
  year.minutes += head.minutes;
  MonthOfYear& month = year.months[month_index(head.opened)];
  ++month.cases;
  month.minutes += head.minutes;
  add_causes(year, story);
}

ListOfYear list_of_year(const faults::Routine& routine, std::size_t index, const YearRecord& record,
                        const std::set<double>& days_of_use) {
  const faults::RoutineList& list = routine.lists[index];
  ListOfYear told{list.name, 0, days_of_use.size(), 0};
  std::set<double> checked;  // days on which it was gone through, by itself or as part of another
  for (const record::CheckHead& check : record.checks) {
    const auto its = std::find_if(routine.lists.begin(), routine.lists.end(),
                                  [&](const auto& one) { return one.name == check.list; });
    if (check.ended.empty() || its == routine.lists.end()) continue;
    const auto own = static_cast<std::size_t>(its - routine.lists.begin());
    if (own == index && check.opened.substr(0, 4) == std::to_string(record.year)) ++told.checks;
    if (its->holds(index, own)) checked.insert(day_number(check.opened));
  }
  for (const double day : days_of_use) {
    const auto after = checked.upper_bound(day);
    if (after != checked.begin() && *std::prev(after) > day - list.every_days) ++told.on_time;
  }
  return told;
}

}  // namespace

Year year_of(const faults::Rules& rules, const YearRecord& record) {
  Year year;
  year.year = record.year;
  year.months.resize(kMonths);
  year.sessions = record.sessions.size();
  for (const record::CaseStory& story : record.cases) add_case(year, story);
  std::stable_sort(year.classes.begin(), year.classes.end(),
                   [](const ClassOfYear& a, const ClassOfYear& b) { return a.faults > b.faults; });
  std::set<double> days_of_use;
  for (const record::Session& session : record.sessions) {
    days_of_use.insert(day_number(session.day));
  }
  if (rules.routine) {
    for (std::size_t index = 0; index < rules.routine->lists.size(); ++index) {
      year.lists.push_back(list_of_year(*rules.routine, index, record, days_of_use));
    }
  }
  return year;
}

}  // namespace whichlink::history
