#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/svg.h"
#include "render/upkeep_pages.h"

namespace whichlink::render {
namespace {

constexpr double kMinutesPerHour = 60;

std::string interval_words(const RhythmTitle& title, double days) {
  for (const auto& [name, named] : history::named_intervals(title.use)) {
    if (std::abs(named - days) < .05 * named) return name;
  }
  return fmt::format("every {:.1f} days of use", days);
}

std::string basis(const RhythmTitle& title, const history::Rhythm& rhythm) {
  return fmt::format(
      "Sessions: {:g} on each of {:g} days a year; {:.1f} faults a year by {} rates; one check "
      "takes {}, by a {} listener.",
      title.use.sessions_per_day, title.use.days_per_year, rhythm.faults_per_year,
      title.learned ? "learned" : "judged", minutes(rhythm.check_minutes), title.listener);
}

std::string row(const std::string& name, const history::RhythmCost& one) {
  return "  " + padded(name, 24) +
         fmt::format("{:>8.0f}{:>12.1f}{:>15.1f}{:>9.1f}{:>10.1f}\n", one.checks_per_year,
                     one.check_minutes / kMinutesPerHour, one.spoilt_sessions,
                     one.minutes() / kMinutesPerHour, one.days_undetected);
}

Json cost_json(const history::RhythmCost& one) {
  return {{"days_of_use", one.days},
          {"checks_per_year", one.checks_per_year},
          {"check_minutes_per_year", one.check_minutes},
          {"spoilt_sessions_per_year", one.spoilt_sessions},
          {"spoilt_minutes_per_year", one.spoilt_minutes},
          {"minutes_per_year", one.minutes()},
          {"mean_days_undetected", one.days_undetected}};
}

}  // namespace

std::string rhythm_page(const RhythmTitle& title, const history::Rhythm& rhythm,
                        const Style& style) {
  std::string out = heading(title.installation, style);
  out += wrapped(basis(title, rhythm), "", style.width) + "\n";
  out += dim("                                     hours on      sessions    hours  days that",
             style) +
         "\n" +
         dim("  checked                   a year   checks        spoilt      in all a fault runs",
             style) +
         "\n";
  const auto names = history::named_intervals(title.use);
  for (std::size_t index = 0; index < rhythm.named.size(); ++index) {
    out += row(names[index].first, rhythm.named[index]);
  }
  const history::RhythmCost& best = rhythm.cheapest;
  out += row("cheapest: " + fmt::format("{:.1f} days", best.days), best) + "\n";
  const auto worst =
      std::max_element(rhythm.named.begin(), rhythm.named.end(),
                       [](const auto& a, const auto& b) { return a.minutes() < b.minutes(); });
  const double saved = (worst->minutes() - best.minutes()) / kMinutesPerHour;
  const std::string worst_name =
      names[static_cast<std::size_t>(worst - rhythm.named.begin())].first;
  out += wrapped(
      fmt::format("Cheapest is a check {}: {:.0f} hours a year in all, {:.0f} hours less than {}.",
                  interval_words(title, best.days), best.minutes() / kMinutesPerHour, saved,
                  worst_name),
      "", style.width);
  out += wrapped(
      "Days are days of use. A spoilt session is one that used a route while a fault showed on it "
      "and nobody knew. Where a rule or a standard asks for more checks, it comes first.",
      "", style.width);
  return out;
}

Json rhythm_json(const RhythmTitle& title, const history::Rhythm& rhythm) {
  Json json = {{"installation", title.installation},
               {"sessions_per_day", title.use.sessions_per_day},
               {"days_of_use_per_year", title.use.days_per_year},
               {"spoilt_session_minutes", title.use.spoilt_minutes},
               {"rates", title.learned ? "learned" : "judged"},
               {"listener", title.listener},
               {"check_minutes", rhythm.check_minutes},
               {"faults_per_year", rhythm.faults_per_year},
               {"cheapest", cost_json(rhythm.cheapest)}};
  const auto names = history::named_intervals(title.use);
  json["named"] = Json::array();
  for (std::size_t index = 0; index < rhythm.named.size(); ++index) {
    Json one = {{"name", names[index].first}};
    one.update(cost_json(rhythm.named[index]));
    json["named"].push_back(one);
  }
  json["curve"] = Json::array();
  for (const history::RhythmCost& one : rhythm.curve) json["curve"].push_back(cost_json(one));
  return json;
}

namespace {

/// Hours a year over the days from check to check, the days on a scale of ratios.
class IntervalPlot {
 public:
  IntervalPlot(const RhythmTitle& title, const history::Rhythm& rhythm)
      : title_(title), rhythm_(rhythm), longest_(std::max(2.0, rhythm.curve.back().days)) {
    for (const history::RhythmCost& one : rhythm.curve) {
      largest_ = std::max(largest_, hours(one.minutes()) * 1.05);
    }
  }

  std::string draw() {
    svg_ = svg_start(
        kLeft + kWidth + 130, kTop + kHeight + 90,
        title_.installation + ": hours a year, by how often one checks",
        fmt::format("Sessions: {:g} on each of {:g} days a year; {:.1f} faults a year by {} rates",
                    title_.use.sessions_per_day, title_.use.days_per_year, rhythm_.faults_per_year,
                    title_.learned ? "learned" : "judged"));
    axes();
    line([](const history::RhythmCost& one) { return one.check_minutes; }, "#5b7f95", "6 4",
         "checking");
    line([](const history::RhythmCost& one) { return one.spoilt_minutes; }, "#8a5a2b", "2 3", "");
    line([](const history::RhythmCost& one) { return one.minutes(); }, "#222", "none", "in all");
    cheapest();
    return svg_ + "</svg>\n";
  }

 private:
  static constexpr double kLeft = 80, kTop = 80, kWidth = 560, kHeight = 300;

  [[nodiscard]] static double hours(double minutes) { return minutes / kMinutesPerHour; }
  [[nodiscard]] double x(double days) const {
    return kLeft + std::log(std::max(days, 1.0)) / std::log(longest_) * kWidth;
  }
  [[nodiscard]] double y(double hours) const { return kTop + kHeight * (1 - hours / largest_); }

  void axes() {
    const double step = tick_step(largest_);
    for (double tick = 0; tick <= largest_; tick += step) {
      svg_ += fmt::format(
          "<path d=\"M{:.0f} {:.1f}H{:.0f}\" stroke=\"#ddd\"/><text x=\"{:.0f}\" y=\"{:.1f}\" "
          "text-anchor=\"end\" fill=\"#555\">{:g}</text>\n",
          kLeft, y(tick), kLeft + kWidth, kLeft - 8, y(tick) + 4, tick);
    }
    for (const auto& [name, days] : history::named_intervals(title_.use)) {
      svg_ += fmt::format(
          "<path d=\"M{0:.1f} {1:.0f}V{2:.0f}\" stroke=\"#ddd\"/><text x=\"{0:.1f}\" "
          "y=\"{3:.0f}\" text-anchor=\"middle\" fill=\"#555\">{4}</text>\n",
          x(days), kTop, kTop + kHeight, kTop + kHeight + 18, escaped(name));
    }
    svg_ += fmt::format(
        "<text x=\"{0:.0f}\" y=\"{1:.0f}\" fill=\"#555\">Solid: in all. Dashes: checking. Dots: "
        "spoilt sessions.</text>\n"
        "<text x=\"{0:.0f}\" y=\"{2:.0f}\" fill=\"#555\">To the right: ever more days of use from "
        "check to check, up to {3:g}.</text>\n",
        kLeft, kTop + kHeight + 46, kTop + kHeight + 66, rhythm_.curve.back().days);
  }

  template <class MinutesOf>
  void line(MinutesOf minutes_of, const char* colour, const char* dash, const char* label) {
    std::string path;
    for (const history::RhythmCost& one : rhythm_.curve) {
      path += fmt::format("{}{:.1f} {:.1f}", path.empty() ? "M" : "L", x(one.days),
                          y(hours(minutes_of(one))));
    }
    svg_ += fmt::format(
        "<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"2\" stroke-dasharray=\"{}\"/>\n"
        "<text x=\"{:.0f}\" y=\"{:.1f}\" fill=\"{}\">{}</text>\n",
        path, colour, dash, kLeft + kWidth + 8, y(hours(minutes_of(rhythm_.curve.back()))) + 4,
        colour, label);
  }

  void cheapest() {
    const double at = x(rhythm_.cheapest.days);
    const double height = y(hours(rhythm_.cheapest.minutes()));
    svg_ += fmt::format(
        "<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"5\" fill=\"#222\"/>\n"
        "<text x=\"{:.1f}\" y=\"{:.1f}\">cheapest</text>\n",
        at, height, std::max(kLeft + 4, at - 24), height + 22);
  }

  const RhythmTitle& title_;
  const history::Rhythm& rhythm_;
  double longest_;
  double largest_ = 1;
  std::string svg_;
};

}  // namespace

std::string rhythm_plot(const RhythmTitle& title, const history::Rhythm& rhythm) {
  return IntervalPlot(title, rhythm).draw();
}

}  // namespace whichlink::render
