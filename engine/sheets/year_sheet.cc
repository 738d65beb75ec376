#include "sheets/year_sheet.h"

#include <fmt/format.h>

#include <array>

#include "render/bars.h"
#include "render/text.h"
#include "sheets/html.h"
#include "sheets/names.h"

namespace whichlink::sheets {
namespace {

constexpr std::size_t kMostClasses = 8;
constexpr double kFaultsWorthALine = .05;  // expected faults; below, it would read as nothing

constexpr std::array kMonths = {"January",   "February", "March",    "April",
                                "May",       "June",     "July",     "August",
                                "September", "October",  "November", "December"};

std::string cases_words(const history::Year& year) {
  std::vector<std::string> ends;
  const auto add = [&](std::size_t count, const char* words) {
    if (count > 0) ends.push_back(fmt::format("{} {}", count, words));
  };
  add(year.mended, "mended");
  add(year.nothing_found, "with nothing found");
  add(year.handed_over, "handed over to service");
  add(year.open, "still open");
  if (ends.empty()) return "none";
  return fmt::format("{} in all: {}", year.cases, render::listed(ends));
}

Block in_short(const history::Year& year) {
  return facts({{"Cases", cases_words(year)},
                {"Isolating took", render::minutes(year.minutes)},
                {"Sessions", fmt::format("{} on record", year.sessions)}});
}

Block faults(const history::Year& year) {
  Table table{"", {"What went bad", "faults", "cases", "minutes"}, {}, ""};
  std::vector<render::Bar> bars;
  double seldom = 0;
  for (const history::ClassOfYear& one : year.classes) {
    if (one.faults < kFaultsWorthALine) {
      seldom += one.faults;
      continue;
    }
    const std::string faults = fmt::format("{:.1f}", one.faults);
    table.rows.push_back({capital(one.name), faults, fmt::format("{}", one.cases),
                          fmt::format("{:.0f}", one.minutes)});
    if (bars.size() < kMostClasses) bars.push_back({one.name, one.faults, faults, 0});
  }
  if (table.rows.empty()) return section(2, "Faults", paragraph("None on record."));
  const std::string rest = seldom >= kFaultsWorthALine
                               ? fmt::format(" All that is not listed comes to {:.1f}.", seldom)
                               : "";
  return section(2, "Faults, by what went bad",
                 picture(render::bars_svg(bars),
                         "Faults by class of part, most first; the numbers are in the table below",
                         {}, "bars") +
                     sheets::table(table) +
                     paragraph("A case counts by the chances of its causes, so one with two "
                               "suspects may be half a fault of each. Cases: those in which it "
                               "was believed with 5 % or more." +
                               rest));
}

Block minutes(const history::Year& year) {
  Table table{"", {"Month", "cases", "minutes"}, {}, ""};
  std::vector<render::Bar> bars;
  for (std::size_t month = 0; month < year.months.size(); ++month) {
    const history::MonthOfYear& one = year.months[month];
    const std::string took = fmt::format("{:.0f}", one.minutes);
    table.rows.push_back({kMonths[month], fmt::format("{}", one.cases), took});
    bars.push_back({kMonths[month], one.minutes, took, 0});
  }
  const Block drawn = picture(
      render::bars_svg(bars),
      "Minutes of isolating in each month; the numbers are in the table beside it", {}, "bars");
  return section(2, "Minutes lost to faults, by month", box("pair", drawn + sheets::table(table)),
                 "new-page");
}

Block checks(const history::Year& year) {
  Table table{"", {"List", "checks ended", "days of use", "on time", "share"}, {}, ""};
  std::vector<render::Bar> bars;
  for (const history::ListOfYear& one : year.lists) {
    const bool used = one.days_of_use > 0;
    const double share =
        used ? static_cast<double>(one.on_time) / static_cast<double>(one.days_of_use) : 0;
    const std::string said = used ? render::percent(share) : "not known";
    table.rows.push_back({capital(one.name), fmt::format("{}", one.checks),
                          fmt::format("{}", one.days_of_use), fmt::format("{}", one.on_time),
                          said});
    if (used) {
      bars.push_back(
          {one.name, static_cast<double>(one.on_time), said, static_cast<double>(one.days_of_use)});
    }
  }
  if (table.rows.empty()) return {};
  const Block drawn =
      bars.empty() ? Block()
                   : picture(render::bars_svg(bars, "Black: on time. Frame: days of use."),
                             "Days of use on which each list was on time; the numbers are in the "
                             "table below",
                             {}, "bars");
  return section(2, "Checks on time",
                 drawn + sheets::table(table) +
                     paragraph("A day of use is a day with a session on record. A list is on time "
                               "on it if it was gone through on that day, or not longer before "
                               "than it allows."));
}

}  // namespace

std::string year_sheet(const std::string& installation, const history::Year& year,
                       const std::string& date) {
  Page around;
  around.title = fmt::format("The year {}", year.year);
  around.about = installation;
  around.date = date;
  return page(around, in_short(year) + faults(year) + checks(year) + minutes(year));
}

}  // namespace whichlink::sheets
