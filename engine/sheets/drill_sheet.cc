#include "sheets/drill_sheet.h"

#include <fmt/format.h>

#include "base/moment.h"
#include "drill/habit.h"
#include "render/bars.h"
#include "render/text.h"
#include "sheets/html.h"
#include "sheets/names.h"

namespace whichlink::sheets {
namespace {

constexpr std::size_t kMostDrawn = 20;  // the newest drills, in a picture that still fits a page

std::string points(double share_kept) {
  return fmt::format("{:.0f}", 100 * share_kept);
}

Block in_short(const history::Progress& progress) {
  return facts({{"Trainee", strong(progress.trainee)},
                {"Drills", fmt::format("{}", progress.all.drills)},
                {"Points", fmt::format("{} of 100 over all, {} in the later half",
                                       points(progress.all.share_kept()),
                                       points(progress.late.share_kept()))}}) +
         paragraph(
             "100 points: no minute was lost against the best that could be known at each "
             "step. Luck counts for nothing.");
}

Block drills(const history::Progress& progress) {
  Table all{"", {"Day", "lesson", "case", "points", "minutes lost"}, {}, ""};
  std::vector<render::Bar> bars;
  for (const record::Drilled& one : progress.drills) {
    const double kept = history::losses_of({one}).share_kept();
    all.rows.push_back({marked("keep", day_of(one.at)), capital(one.lesson), one.drill_case,
                        points(kept), fmt::format("{:.1f}", one.lost)});
    bars.push_back({day_of(one.at) + " " + one.lesson, 100 * kept, points(kept), 100});
  }
  if (bars.size() > kMostDrawn) bars.erase(bars.begin(), bars.end() - kMostDrawn);
  return section(2, "Drill by drill",
                 picture(render::bars_svg(bars, "Frame: 100 points."),
                         "Points of each drill, the newest last; the table below has the numbers",
                         {}, "bars") +
                     table(all));
}

Block habits(const history::Progress& progress) {
  Table by_habit{"", {"What the minutes went by", "minutes lost"}, {}, ""};
  for (const record::DrillLoss& loss : progress.all.by_habit) {
    const auto known = drill::habit_of(loss.habit);
    by_habit.rows.push_back({capital(known ? drill::words_of(*known) : loss.habit),
                             fmt::format("{:.1f}", loss.minutes)});
  }
  if (by_habit.rows.empty()) return {};
  return section(2, "Where the minutes went", table(by_habit));
}

std::string counted(std::size_t count, const char* what, const char* which) {
  return fmt::format("{} {}{} {}", count, what, count == 1 ? "" : "s", which);
}

Block care(const history::Progress& progress) {
  return section(
      2, "Care",
      facts(
          {{"Told nothing", counted(progress.told_nothing, "move", "that could not tell anything")},
           {"Left changed",
            counted(progress.left_changed, "drill", "that ended with something not put back")},
           {"Not checked", counted(progress.unchecked, "drill", "without a check that was due")},
           {"Not borne out",
            counted(progress.unsupported, "claim", "that the answers did not support")}}));
}

Block sureness(const drill::Calibration& calibration) {
  if (calibration.claims == 0) return {};
  Table bins{"", {"Said", "claims", "mean said", "so it was"}, {}, ""};
  std::vector<render::Bar> bars;
  for (const drill::Calibration::Bin& bin : calibration.bins) {
    if (bin.claims == 0) continue;
    const double right = static_cast<double>(bin.right) / static_cast<double>(bin.claims);
    const std::string said = fmt::format("{:.0f} to {:.0f} %", 100 * bin.low, 100 * bin.high);
    bins.rows.push_back(
        {said, fmt::format("{}", bin.claims), render::percent(bin.said), render::percent(right)});
    bars.push_back({"said " + said, right, render::percent(right), bin.said});
  }
  return section(2, "How sure, and how right",
                 picture(render::bars_svg(bars, "Black: so it was. Frame: as sure as was said."),
                         "How often claims were true, by how sure they were; the numbers are in "
                         "the table below",
                         {}, "bars") +
                     table(bins) +
                     paragraph(fmt::format("Brier score {:.3f} over {} claims: 0 is best, .25 is a "
                                           "coin.",
                                           calibration.brier, calibration.claims)));
}

}  // namespace

std::string drill_sheet(const history::Progress& progress, const std::string& date) {
  Page around;
  around.title = "Drills so far";
  around.about = "Trainee " + progress.trainee;
  around.date = date;
  return page(around, in_short(progress) + drills(progress) + habits(progress) + care(progress) +
                          sureness(progress.calibration) + blank("Talked over with, and when") +
                          blank("Next lesson"));
}

}  // namespace whichlink::sheets
