#include "history/year.h"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "base/moment.h"
#include "base/random.h"
#include "guide/support.h"

namespace whichlink::history {
namespace {

using testing::shipped;

record::CaseStory one_case(const std::string& opened, const std::string& ending, double minutes,
                           const std::vector<record::Cause>& causes) {
  record::CaseStory story;
  story.head.opened = opened;
  story.head.ending = ending;
  story.head.minutes = minutes;
  story.end.causes = causes;
  return story;
}

record::CheckHead check(const std::string& list, const std::string& opened, bool has_ended = true) {
  record::CheckHead head;
  head.list = list;
  head.opened = opened;
  head.ended = has_ended ? opened : "";
  return head;
}

TEST(Year, CasesAreSharedOutByTheChancesOfTheirCauses) {
  YearRecord record;
  record.year = 2026;
  record.cases = {one_case("2026-03-02T08:30", "mended", 10,
                           {{"socket: tarnish", "", "", .6},
                            {"cord: broken", "", "", .2},
                            {"socket: spring", "", "", .2}}),
                  one_case("2026-03-31T23:59", "handed over", 30, {{"crossed plugs", "", "", .03}}),
                  one_case("2026-12-31T12:00", record::kOpen, 5, {})};
  const Year year = year_of({}, record);
  EXPECT_EQ(year.cases, 3U);
  EXPECT_EQ(year.mended, 1U);
  EXPECT_EQ(year.handed_over, 1U);
  EXPECT_EQ(year.open, 1U);
  EXPECT_EQ(year.nothing_found, 0U);
  EXPECT_DOUBLE_EQ(year.minutes, 45);
  ASSERT_EQ(year.classes.size(), 3U);
  EXPECT_EQ(year.classes[0].name, "socket");
  EXPECT_DOUBLE_EQ(year.classes[0].faults, .8);
  EXPECT_DOUBLE_EQ(year.classes[0].minutes, 8);
  EXPECT_EQ(year.classes[0].cases, 1U);  // believed twice in one case
  EXPECT_EQ(year.classes[1].name, "cord");
  EXPECT_DOUBLE_EQ(year.classes[1].minutes, 2);
  EXPECT_EQ(year.classes[2].name, "crossed plugs");
  EXPECT_DOUBLE_EQ(year.classes[2].minutes, 30);  // the only cause that anybody believed in
  EXPECT_EQ(year.classes[2].cases, 0U);           // but hardly
  ASSERT_EQ(year.months.size(), 12U);
  EXPECT_EQ(year.months[2].cases, 2U);
  EXPECT_DOUBLE_EQ(year.months[2].minutes, 40);
  EXPECT_EQ(year.months[11].cases, 1U);
  EXPECT_TRUE(year.lists.empty());
}

TEST(Year, ACheckIsOnTimeForAsLongAsItsListAllows) {
  const faults::Rules rules = shipped("single-room").rules;
  YearRecord record;
  record.year = 2026;
  for (const char* day : {"2026-01-01", "2026-01-02", "2026-01-05", "2026-01-08", "2026-01-09"}) {
    record.sessions.push_back({"A1", day, {}});
    record.sessions.push_back({"A2", day, {}});  // two on a day are one day of use
  }
  // The weekly list holds the daily one. One check is of the year before, one was not ended.
  record.checks = {check("weekly", "2025-12-26T08:00"), check("weekly", "2026-01-02T08:00"),
                   check("daily", "2026-01-05T08:00", false), check("daily", "2026-01-09T08:00")};
  const Year year = year_of(rules, record);
  ASSERT_EQ(year.lists.size(), 2U);
  EXPECT_EQ(year.lists[0].name, "daily");
  EXPECT_EQ(year.lists[0].days_of_use, 5U);
  EXPECT_EQ(year.lists[0].checks, 1U);
  EXPECT_EQ(year.lists[0].on_time, 2U);  // on the 2nd by the weekly one, and on the 9th
  EXPECT_EQ(year.lists[1].name, "weekly");
  EXPECT_EQ(year.lists[1].checks, 1U);
  EXPECT_EQ(year.lists[1].on_time, 4U);  // until the 8th; on the 9th seven days have gone by
  EXPECT_EQ(year.sessions, 10U);
}

// The same figure by going through all pairs of a day and a check.
TEST(Year, DaysOnTimeAreThoseThatAreFoundOneByOne) {
  const faults::Rules rules = shipped("two-room-booth").rules;
  const auto& lists = rules.routine->lists;
  const double first = moment_from("2026-01-01")->days;
  Random random(7);
  for (int round = 0; round < 200; ++round) {
    YearRecord record;
    record.year = 2026;
    std::set<int> days;
    for (int count = 0; count < 20; ++count) days.insert(static_cast<int>(random.below(60)));
    for (const int day : days) record.sessions.push_back({"A1", day_text(first + day), {}});
    std::vector<std::pair<int, std::size_t>> made;
    for (std::uint32_t count = random.below(12); count > 0; --count) {
      made.emplace_back(static_cast<int>(random.below(70)) - 10, random.below(2));
      record.checks.push_back(
          check(lists[made.back().second].name, day_text(first + made.back().first) + "T08:00"));
    }
    const Year year = year_of(rules, record);
    for (std::size_t list = 0; list < lists.size(); ++list) {
      std::size_t on_time = 0;
      for (const int day : days) {
        bool is_so = false;
        for (const auto& [at, own] : made) {
          const bool holds = own == list || list == 0;  // weekly holds daily
          is_so = is_so || (holds && at <= day && day - at < lists[list].every_days);
        }
        on_time += is_so ? 1 : 0;
      }
      ASSERT_EQ(year.lists[list].on_time, on_time) << round << " " << lists[list].name;
      ASSERT_EQ(year.lists[list].days_of_use, days.size());
    }
  }
}

}  // namespace
}  // namespace whichlink::history
