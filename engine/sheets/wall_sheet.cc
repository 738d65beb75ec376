#include "sheets/wall_sheet.h"

#include <fmt/format.h>

#include <cmath>

#include "render/text.h"
#include "sheets/html.h"
#include "sheets/wall_fit.h"
#include "sheets/wall_words.h"

namespace whichlink::sheets {
namespace {

// Rarer complaints of a route have no page (judged).
constexpr double kLeastShare = 0.02;
// The longest charts that a page has room for are well below.
constexpr std::size_t kMostOpened = 40;
// By the rules' prices a fault left in costs some six hours, a case that is taken from the paper to
// the program about one (judged).
constexpr double kLeftInCounts = 6;

const std::string kRarer =
    "What is heard more rarely has no chart: keep the route out of use and go on with the program.";

// Sizes agree with wall_fit.cc.
const std::string kWallStyle =
    R"css(@page{margin:11mm 11mm 16mm}
.chart h2{margin:0 0 .3em;font-size:1.6em;line-height:1.22;display:flex;gap:.5em;align-items:baseline}
.chart h2{flex-wrap:wrap}
.chart .what{flex:1;min-width:0;overflow-wrap:anywhere}
.chart h2 .what{flex-basis:8em}
.chart p{margin:0}
.boxes{list-style:none;padding:0;margin:.5em 0;columns:2 20rem;column-gap:.9em}
.boxes>li{break-inside:avoid;margin:0;padding-bottom:.35em}
.step{border:.1em solid #000;padding:.1em .35em .15em}
.step h3{font-size:1em;line-height:inherit;margin:0;display:flex;gap:.4em;align-items:baseline}
.step h3 .what{flex:1;min-width:0}
.no{border:.1em solid #000;padding:0 .3em;min-width:1.7em;text-align:center}
.far{font-weight:normal;white-space:nowrap}
.step ol,.step ul{margin:0;padding-left:1.5em}
.step li{margin:0}
.step .ways{list-style:none;padding:0}
.ways li{border-top:1px solid #000;padding:.06em 0}
.way{display:flex;gap:.5em}
.way .if{flex:1;min-width:0;overflow-wrap:anywhere}
.way .to{font-weight:bold;white-space:nowrap}
.way a{display:inline-block;min-width:1.5rem;min-height:1.5rem}
.ends{font-size:.953em;border:.1em solid #000;padding:.15em .35em}
@media screen{.chart{border-top:.45rem double #000;margin-top:2rem;padding-top:1rem}.way a{padding:.1rem 0}}
@media print{footer{display:none}h1{font-size:1.6rem}dl{font-size:.95rem;line-height:1.3}dl div{padding:.1rem 0}.mind{margin:.5rem 0}.chart{break-before:page;break-inside:avoid;line-height:1.22}.size12{font-size:12pt}.size11{font-size:11pt}.size10{font-size:10.5pt}.way a{min-height:0;text-decoration:none}}
)css";

std::string look_of(double size_points) {
  return fmt::format("chart size{:.0f}", std::floor(size_points));
}

std::string anchor_of(std::size_t chart, std::size_t box) {
  return fmt::format("chart-{}-step-{}", chart, box);
}

Words way(const WallRow& row, std::size_t chart) {
  Words what = strong(row.heard);
  if (!row.means.empty()) what += ": " + row.means;
  const Words to =
      row.box ? link_to(anchor_of(chart, *row.box + 1), fmt::format("go to {}", *row.box + 1))
              : Words(row.ends);
  return marked("way", marked("if", what) + " " + marked("to", to));
}

Block box_of(const WallBox& box, std::size_t number, std::size_t chart) {
  const Words title = marked("no", std::to_string(number)) + " " + marked("what", box.title);
  Block body;
  if (!box.how.empty()) body += paragraph(box.how);
  if (!box.series.empty()) {
    body += numbered(std::vector<Words>(box.series.begin(), box.series.end()));
  }
  body += paragraph(box.beside);
  std::vector<Words> ways;
  for (const WallRow& row : box.rows) ways.push_back(way(row, chart));
  body += list(ways, "ways");
  return section(3, title, body, "step", anchor_of(chart, number));
}

std::string chart_name(std::size_t number) {
  return fmt::format("Chart {}", number);
}

Block chart_of(const WallChart& words, std::size_t number, double size_points) {
  Block body = paragraph(words.comes_to);
  std::string every = words.listening.empty() ? "" : "After every step: " + words.listening + ".";
  for (const std::string& caution : words.every_time) every += " " + caution;
  body += paragraph(strong("Start at 1. ") + kLegend + " " + every);
  std::vector<Block> boxes;
  for (std::size_t index = 0; index < words.boxes.size(); ++index) {
    boxes.push_back(box_of(words.boxes[index], index + 1, number));
  }
  body += numbered(boxes, "boxes");
  Block ends;
  for (const WallEnd& end : words.ends) ends += paragraph(strong(end.name + ": ") + end.words);
  ends += paragraph(strong(kNotSure) + " " + words.if_not_sure + " " + strong(kCannot) + " " +
                    kIfCannot);
  if (!words.whole_route.empty()) {
    ends += paragraph(strong("The whole route: ") + words.whole_route);
  }
  for (std::size_t index = 0; index < words.cautions.size(); ++index) {
    ends += paragraph(strong(fmt::format("Mind {}: ", index + 1)) + words.cautions[index]);
  }
  body += box("ends", ends);
  const Words title = marked("what", name(words.route) + ": " + words.heard) + " " +
                      marked("far", chart_name(number));
  return section(2, title, body, look_of(size_points), fmt::format("chart-{}", number));
}

}  // namespace

std::vector<chart::Complaint> wall_complaints(const moves::Setting& setting, RouteId route,
                                              std::size_t listener, const plan::Depth& depth) {
  return chart::complaints_of(setting, route, listener, kLeastShare, depth);
}

std::string wall_sheet(const moves::Setting& setting, const WallQuestion& question,
                       const std::function<void(double)>& progress) {
  chart::Fitting fitting;
  // How much doubt may be left when a chart closes: the best of these is taken (judged).
  for (const double doubt : {.015, .03, .05}) {
    fitting.growths.push_back({kMostOpened, doubt, question.depth});
  }
  fitting.left_in_counts = kLeftInCounts;
  fitting.fits = [&](const chart::Chart& chart) {
    return fits_page(words_of(setting, chart), wall_sizes().back());
  };
  const std::vector<chart::Chart> charts =
      chart::all_fitted(setting, question.complaints, fitting, progress);
  Block pages;
  std::vector<std::pair<Words, Words>> which;
  std::optional<RouteId> route;
  for (std::size_t index = 0; index < charts.size(); ++index) {
    const WallChart words = words_of(setting, charts[index]);
    double size = wall_sizes().back();
    for (const double larger : wall_sizes()) {
      if (!fits_page(words, larger)) continue;
      size = larger;
      break;
    }
    pages += chart_of(words, index + 1, size);
    const Words number = spoken("chart ") + std::to_string(index + 1);
    const Words here =
        words.heard + ": " + strong(link_to(fmt::format("chart-{}", index + 1), number));
    if (route == question.complaints[index].route) {
      which.back().second += "; " + here;
    } else {
      route = question.complaints[index].route;
      which.emplace_back(name(words.route), here);
    }
  }
  Page around;
  around.title = "Fault charts";
  around.about = setting.installation().name;
  around.date = question.date;
  around.style = kWallStyle;
  std::vector<std::string> always;
  for (const std::size_t caution : setting.rules().always) {
    always.push_back(setting.rules().cautions[caution].words);
  }
  return page(around, cautions(always) +
                          section(2, "Which chart", facts(which) + paragraph(kRarer)) + pages);
}

}  // namespace whichlink::sheets
