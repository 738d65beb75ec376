#include "render/progress_pages.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/moment.h"
#include "render/svg.h"

namespace whichlink::render {
namespace {

std::string drills_words(std::size_t count) {
  return fmt::format("{} drill{}", count, count == 1 ? "" : "s");
}

std::string points(double share_kept) {
  return fmt::format("{:.0f}", 100 * share_kept);
}

// What a habit that a record names stands for; a record may know one that we do not.
std::string habit_words(const std::string& habit) {
  const auto known = drill::habit_of(habit);
  return known ? drill::words_of(*known) : habit;
}

std::string habits_block(const history::Losses& losses, std::size_t most, const Style& style) {
  std::string out;
  std::size_t shown = 0;
  for (const record::DrillLoss& loss : losses.by_habit) {
    if (shown++ == most) break;
    const double share = losses.lost > 0 ? loss.minutes / losses.lost : 0;
    out +=
        wrapped(fmt::format("{} ({})", habit_words(loss.habit), loss.habit),
                "  " + padded(minutes(loss.minutes), 9) + padded(percent(share), 7), style.width);
  }
  return out;
}

}  // namespace

std::string lessons_page(const drill::Lessons& lessons, const history::Progress* progress,
                         const Style& style) {
  std::string out = heading("Drills for " + lessons.trade, style);
  if (!lessons.about.empty()) out += wrapped(lessons.about, "", style.width);
  out += "\n";
  std::size_t number = 0;
  for (const drill::Lesson& lesson : lessons.lessons) {
    std::string done;
    if (progress != nullptr) {
      std::vector<record::Drilled> theirs;
      for (const record::Drilled& one : progress->drills) {
        if (one.lesson == lesson.name) theirs.push_back(one);
      }
      if (!theirs.empty()) {
        done = fmt::format(" ({}, {} points)", drills_words(theirs.size()),
                           points(history::losses_of(theirs).share_kept()));
      }
    }
    out += fmt::format("  {:>2}  {}\n", ++number, bold(lesson.name, style) + done);
    out += wrapped(lesson.goal, "      ", style.width);
  }
  return out + "\n" +
         wrapped("Begin with: whichlink drill --lesson 1. On record only with --trainee CODE.", "",
                 style.width);
}

Json lessons_json(const drill::Lessons& lessons) {
  Json all = Json::array();
  for (const drill::Lesson& lesson : lessons.lessons) {
    Json cases = Json::array();
    for (const drill::DrillCase& one : lesson.cases) {
      cases.push_back({{"name", one.name}, {"model", one.model}, {"route", one.route}});
    }
    all.push_back({{"lesson", lesson.name},
                   {"goal", lesson.goal},
                   {"teaches", lesson.teaches ? Json(drill::name_of(*lesson.teaches)) : Json()},
                   {"cases", cases}});
  }
  return {{"trade", lessons.trade}, {"lessons", all}};
}

std::string calibration_block(const drill::Calibration& calibration, const Style& style) {
  if (calibration.claims == 0) return "";
  constexpr std::size_t kBar = 20;
  std::string out = bold("How sure, and how right", style) + "\n";
  out += dim("  said           claims  mean said   so it was", style) + "\n";
  for (const drill::Calibration::Bin& bin : calibration.bins) {
    if (bin.claims == 0) continue;
    const double right = static_cast<double>(bin.right) / static_cast<double>(bin.claims);
    out += fmt::format("  {:<15}{:>6}{:>11}{:>12}  {}\n",
                       fmt::format("{:.0f} to {:.0f} %", 100 * bin.low, 100 * bin.high), bin.claims,
                       percent(bin.said), percent(right), bar(right, kBar, style));
  }
  return out + wrapped(fmt::format("Brier score {:.3f} over {} claims: {:.3f} for saying too much "
                                   "or too little, less {:.3f} for telling apart, and {:.3f} that "
                                   "nobody could know. 0 is best, .25 is a coin.",
                                   calibration.brier, calibration.claims, calibration.reliability,
                                   calibration.resolution, calibration.uncertainty),
                       "  ", style.width);
}

std::string progress_page(const history::Progress& progress, const Style& style) {
  std::string out = heading("Trainee " + progress.trainee, style);
  out += wrapped(fmt::format("{}: {} points of 100 over all, {} in the later half.",
                             drills_words(progress.all.drills), points(progress.all.share_kept()),
                             points(progress.late.share_kept())),
                 "", style.width);
  constexpr std::size_t kBar = 20;
  out += "\n" + dim("  day         lesson                     points  lost", style) + "\n";
  for (const record::Drilled& one : progress.drills) {
    const double kept = history::losses_of({one}).share_kept();
    out += fmt::format("  {:<12}{} {:>6}  {:<9} {}\n", day_of(one.at),
                       padded(cut(one.lesson, 26, style), 26), points(kept), minutes(one.lost),
                       bar(kept, kBar, style));
  }
  if (!progress.all.by_habit.empty()) {
    out +=
        "\n" + bold("Where the minutes went", style) + "\n" + habits_block(progress.all, 5, style);
  }
  out += "\n" + wrapped(fmt::format("Moves that could tell nothing: {}. Drills that ended with "
                                    "something changed: {}; without a check that was due: {}. "
                                    "Claims that the answers did not bear out: {}.",
                                    progress.told_nothing, progress.left_changed,
                                    progress.unchecked, progress.unsupported),
                        "", style.width);
  const std::string sure = calibration_block(progress.calibration, style);
  return out + (sure.empty() ? "" : "\n" + sure);
}

std::string class_page(const history::ClassView& view, const Style& style) {
  std::string out = heading("The class", style);
  out +=
      dim("  trainee           drills  points  later  Brier  most minutes went by", style) + "\n";
  for (const history::Progress& one : view.trainees) {
    const std::string brier =
        one.calibration.claims == 0 ? "-" : fmt::format("{:.2f}", one.calibration.brier);
    const std::string most = one.all.by_habit.empty() ? "-" : one.all.by_habit.front().habit;
    out += fmt::format("  {}{:>6}{:>8}{:>7}{:>7}  {}\n", padded(cut(one.trainee, 17, style), 18),
                       one.all.drills, points(one.all.share_kept()), points(one.late.share_kept()),
                       brier, most);
  }
  out += "\n" + bold("Lessons, the hardest first", style) + "\n";
  out += dim("  points  trainees  lesson, and who kept least of it", style) + "\n";
  for (const history::LessonOfClass& row : view.lessons) {
    std::string who = row.lesson;
    if (!row.weakest.empty()) {
      who += fmt::format(": {} ({} points)", row.weakest, points(row.weakest_kept));
    }
    out +=
        cut(fmt::format("  {:>6}  {:>8}  {}", points(row.losses.share_kept()), row.trainees, who),
            style.width, style) +
        "\n";
  }
  return out;
}

namespace {

Json calibration_json(const drill::Calibration& calibration) {
  Json bins = Json::array();
  for (const drill::Calibration::Bin& bin : calibration.bins) {
    bins.push_back({{"from", bin.low},
                    {"to", bin.high},
                    {"claims", bin.claims},
                    {"mean_said", bin.said},
                    {"right", bin.right}});
  }
  return {{"claims", calibration.claims},           {"brier", calibration.brier},
          {"reliability", calibration.reliability}, {"resolution", calibration.resolution},
          {"uncertainty", calibration.uncertainty}, {"bins", bins}};
}

Json losses_json(const history::Losses& losses) {
  Json habits = Json::object();
  for (const record::DrillLoss& loss : losses.by_habit) habits[loss.habit] = loss.minutes;
  return {{"drills", losses.drills},
          {"ideal_minutes", losses.ideal},
          {"lost_minutes", losses.lost},
          {"points", 100 * losses.share_kept()},
          {"lost_by_habit", habits}};
}

}  // namespace

Json progress_json(const history::Progress& progress) {
  Json drills = Json::array();
  for (const record::Drilled& one : progress.drills) {
    drills.push_back({{"number", one.number},
                      {"at", one.at},
                      {"lesson", one.lesson},
                      {"case", one.drill_case},
                      {"seed", one.seed},
                      {"ideal_minutes", one.ideal},
                      {"lost_minutes", one.lost},
                      {"points", 100 * history::losses_of({one}).share_kept()}});
  }
  return {{"trainee", progress.trainee},
          {"all", losses_json(progress.all)},
          {"late", losses_json(progress.late)},
          {"unsupported_claims", progress.unsupported},
          {"calibration", calibration_json(progress.calibration)},
          {"drills", drills}};
}

Json class_json(const history::ClassView& view) {
  Json trainees = Json::array();
  for (const history::Progress& one : view.trainees) trainees.push_back(progress_json(one));
  Json lessons = Json::array();
  for (const history::LessonOfClass& row : view.lessons) {
    lessons.push_back({{"lesson", row.lesson},
                       {"trainees", row.trainees},
                       {"losses", losses_json(row.losses)},
                       {"weakest", row.weakest.empty() ? Json() : Json(row.weakest)},
                       {"weakest_points", 100 * row.weakest_kept}});
  }
  return {{"trainees", trainees}, {"lessons", lessons}};
}

std::string calibration_plot(const std::string& whose, const drill::Calibration& calibration) {
  constexpr double kLeft = 70;
  constexpr double kTop = 70;
  constexpr double kSide = 320;
  constexpr double kDot = 4;
  const auto x = [](double share) { return kLeft + share * kSide; };
  const auto y = [](double share) { return kTop + (1 - share) * kSide; };
  std::string svg =
      svg_start(kLeft + kSide + 60, kTop + kSide + 60, "How sure, and how right: " + whose,
                fmt::format("{} claims, Brier score {:.3f}; on the line said and so agree",
                            calibration.claims, calibration.brier));
  svg += fmt::format(
      "<rect x=\"{0:.0f}\" y=\"{1:.0f}\" width=\"{2:.0f}\" height=\"{2:.0f}\" fill=\"none\" "
      "stroke=\"#ddd\"/>\n<path d=\"M{0:.0f} {3:.0f}L{4:.0f} {1:.0f}\" stroke=\"#bbb\"/>\n",
      kLeft, kTop, kSide, kTop + kSide, kLeft + kSide);
  for (int tenth = 0; tenth <= 10; tenth += 2) {
    const double share = tenth / 10.0;
    svg += fmt::format(
        "<text x=\"{0:.0f}\" y=\"{1:.0f}\" text-anchor=\"middle\" fill=\"#555\">{4} %</text>"
        "<text x=\"{2:.0f}\" y=\"{3:.0f}\" text-anchor=\"end\" fill=\"#555\">{4} %</text>\n",
        x(share), kTop + kSide + 18, kLeft - 8, y(share) + 4, tenth * 10);
  }
  for (const drill::Calibration::Bin& bin : calibration.bins) {
    if (bin.claims == 0) continue;
    const double right = static_cast<double>(bin.right) / static_cast<double>(bin.claims);
    svg += fmt::format(
        "<circle cx=\"{0:.1f}\" cy=\"{1:.1f}\" r=\"{2:.1f}\" fill=\"#5b7f95\"/>"
        "<text x=\"{3:.1f}\" y=\"{4:.1f}\">{5}</text>\n",
        x(bin.said), y(right), kDot + std::min<double>(8, static_cast<double>(bin.claims)) / 2,
        x(bin.said) + 12, y(right) + 4, bin.claims);
  }
  return svg + fmt::format(
                   "<text x=\"{:.0f}\" y=\"{:.0f}\" fill=\"#555\">said, across; so it was, "
                   "upwards</text>\n</svg>\n",
                   kLeft, kTop + kSide + 42);
}

}  // namespace whichlink::render
