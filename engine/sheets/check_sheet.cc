#include "sheets/check_sheet.h"

#include <fmt/format.h>

#include <algorithm>

#include "moves/standing.h"
#include "render/check_words.h"
#include "render/text.h"
#include "routine/chances.h"
#include "sheets/html.h"
#include "sheets/names.h"

namespace whichlink::sheets {
namespace {

using routine::Kind;

constexpr std::size_t kColumns = 5;  // a week of days, or five weeks
constexpr std::size_t kNotes = 4;    // lines for what is not as it should be

const std::string kCheckStyle = R"css(.steps{list-style:none;padding:0;counter-reset:step}
.steps>li{border-top:1px solid #000;padding:.2rem 0 .5rem 2.7rem;position:relative;counter-increment:step;margin:0}
.steps>li::before{content:counter(step);position:absolute;left:0;top:.45rem;min-width:2.1rem;padding:0 .2rem;border:.12rem solid #000;font-weight:bold;text-align:center}
.steps h3{margin:.4rem 0 .2rem}
.steps dl{margin:.2rem 0}
.steps dl div{grid-template-columns:5.2rem 1fr}
.steps ul{margin:.1rem 0}
.grid td{text-align:center;width:5.2rem}
@media screen and (max-width:40rem){.steps dl div{grid-template-columns:1fr}.grid td{text-align:left}}
@media not screen,(min-width:40.01rem){.grid tbody tr:nth-child(-n+2) td{height:2.2rem}}
@media print{.marks{break-before:page}.notes{break-inside:avoid}}
)css";

const faults::Rules& rules_of(const routine::Round& round) {
  return round.setting().rules();
}

Words place_words(const chain::Chain& chain, const routine::Step& step) {
  Words to = name(chain.places[step.to].name);
  if (step.from == step.to) return to;
  return "Set it up in the " + name(chain.places[step.from].name) + ", listen in the " + to + ".";
}

Words stress_words(const moves::Setting& setting, const routine::Step& step) {
  const chain::Chain& chain = setting.chain();
  std::vector<Words> places;
  for (const render::StressedPlace& place : render::stressed_places(setting, step)) {
    std::vector<std::string> here;
    for (const auto& [element, stress] : place.stresses) {
      here.push_back(
          moves::with_it(setting.rules().stresses[stress].short_words, called(chain, element)));
    }
    places.push_back("In the " + name(chain.places[place.place].name) + ": " +
                     render::listed(here) + ".");
  }
  return joined(places, " ");
}

Block step_block(const routine::Round& round, const routine::Step& step) {
  const moves::Setting& setting = round.setting();
  std::vector<std::pair<Words, Words>> lines;
  if (step.item) {
    lines.emplace_back("Do", rules_of(round).routine->items[*step.item].words);
  } else {
    lines.emplace_back("Where", place_words(setting.chain(), step));
    lines.emplace_back(step.kind == Kind::thresholds ? "Take" : "Play",
                       routine::plays(setting, step));
    if (step.kind == Kind::listen) lines.emplace_back("Hear", routine::expects(setting, step));
    if (!step.stresses.empty()) lines.emplace_back("Stress", stress_words(setting, step));
  }
  std::string mind;
  for (const std::string& one : render::step_cautions(setting, step)) {
    mind += (mind.empty() ? "" : " ") + one;
  }
  if (!mind.empty()) lines.emplace_back("Mind", mind);
  lines.emplace_back("Ask", strong(render::step_question(setting, step, false)));
  if (step.item) {
    lines.emplace_back("If not", rules_of(round).routine->items[*step.item].if_not);
  }
  return section(3, capital(render::step_title(setting, step)), facts(lines));
}

Block steps(const routine::Round& round) {
  std::vector<Block> all;
  for (const routine::Step& step : round.plan().steps) all.push_back(step_block(round, step));
  return section(2, "Go through these in order", numbered(all, "steps"));
}

Block grid(const routine::Round& round) {
  Table marks{"", {"Step"}, {}, "grid"};
  for (std::size_t column = 1; column <= kColumns; ++column) {
    marks.heads.emplace_back(fmt::format("Check {}", column));
  }
  for (const char* line : {"Date", "Initials"}) {
    marks.rows.emplace_back(kColumns + 1, Words());
    marks.rows.back().front() = line;
  }
  std::size_t number = 0;
  for (const routine::Step& step : round.plan().steps) {
    const std::string title = render::step_title(round.setting(), step);
    const std::string what = fmt::format("box to tick: {}", title);
    std::vector<Words> row(kColumns + 1, tick_box(what));
    row.front() = fmt::format("{} ", ++number) + Words(title);
    marks.rows.push_back(std::move(row));
  }
  return section(2, "Mark it here",
                 paragraph("A tick: as it should be. A cross: not as it should be; write it below. "
                           "Empty: not done.") +
                     table(marks),
                 "marks");
}

Block after_a_cross(const routine::Round& round) {
  Table notes{"What was not as it should be",
              {"Line", "check and step", "what was heard", "untouched, or only under stress"},
              {},
              "write notes"};
  for (std::size_t line = 1; line <= kNotes; ++line) {
    notes.rows.push_back({fmt::format("{}", line), Words(), Words(), Words()});
  }
  std::vector<Words> then = {
      "Stress what you heard a second time before you write it down.",
      "Hang up a notice: that route is not to be used. Say so to whoever tests next."};
  for (const std::string& words : rules_of(round).routine->if_failed) {
    then.emplace_back(capital(words) + ".");
  }
  return section(2, "When something is not as it should be", numbered(then) + table(notes));
}

Result<Block> levels(const routine::Round& round, const std::string& coupler) {
  const moves::Setting& setting = round.setting();
  const auto& sets = rules_of(round).routine->levels;
  const auto set =
      std::find_if(sets.begin(), sets.end(), [&](const auto& one) { return one.name == coupler; });
  if (coupler.empty()) return Block();
  if (set == sets.end()) {
    std::vector<std::string> names;
    names.reserve(sets.size());
    for (const auto& one : sets) names.push_back(one.name);
    return tl::unexpected(Problems{{{"--coupler", 0, 0},
                                    "no reference levels \"" + coupler + "\"",
                                    one_of(names),
                                    nearest(coupler, names)}});
  }
  Table readings{"", {"Frequency, Hz", "must read, " + set->unit, "either way, dB"}, {}, ""};
  std::vector<RouteId> routes;
  for (const RouteId id : setting.chain().routes.ids()) {
    if (setting.chain().routes[id].signal != set->signal) continue;
    routes.push_back(id);
    readings.heads.push_back(name(setting.chain().routes[id].name));
  }
  if (routes.empty()) return Block();
  for (const faults::AtFrequency& one : set->reference) {
    const Place place{"--coupler", 0, 0};
    const auto level = routine::level_of(setting, routes.front(), set->name, one.hz, 0, place);
    if (!level) return tl::unexpected(level.error());
    std::vector<Words> row(readings.heads.size());
    row[0] = fmt::format("{:g}", one.hz);
    row[1] = fmt::format("{:g}", level->expected_db);
    row[2] = fmt::format("{:g}", level->within_db);
    readings.rows.push_back(std::move(row));
  }
  return section(2, "Levels from a meter",
                 paragraph(fmt::format("The dial at {:g} dB. {}:{} on {}.", set->dial_db,
                                       set->standard, set->year, set->coupler)) +
                     table(readings),
                 "new-page");
}

Block opening(const routine::Round& round) {
  const faults::RoutineList& list = rules_of(round).routine->lists[round.plan().list];
  const routine::Plan& plan = round.plan();
  const double minutes =
      plan.listening_minutes + plan.stressing_minutes + plan.walking_minutes + plan.looking_minutes;
  std::string words = fmt::format("The list \"{}\": {}. {} steps, about {}.", list.name, list.words,
                                  plan.steps.size(), render::minutes(minutes));
  words += fmt::format(
      " By the rules' figures something sounds wrong in {} of the checks of a sound room: stress "
      "what you heard a second time before you write it down.",
      render::percent(routine::chance_false_alarm_of_list(round.setting(), plan.list,
                                                          round.events().listener)));
  if (rules_of(round).routine->trip &&
      routine::trip_cost(round.setting(), plan.list, round.trip_db()).thresholds > 0) {
    words +=
        fmt::format(" An own threshold counts as changed from more than {:g} dB.", round.trip_db());
  }
  Block out = paragraph(words);
  std::vector<Words> left_out;
  for (const RouteId route : plan.left_out) {
    left_out.push_back(name(round.setting().chain().routes[route].name));
  }
  if (!left_out.empty()) out += paragraph("Not on this list: " + joined(left_out, ", ") + ".");
  return out;
}

}  // namespace

Result<std::string> check_sheet(const routine::Round& round, const std::string& coupler,
                                const std::string& date) {
  const auto meter = levels(round, coupler);
  if (!meter) return tl::unexpected(meter.error());
  Page around;
  around.title = "Routine check, " + rules_of(round).routine->lists[round.plan().list].name;
  around.about = round.setting().installation().name;
  around.date = date;
  around.style = kCheckStyle;
  return page(around, opening(round) + cautions(render::all_cautions(round)) + steps(round) +
                          grid(round) + after_a_cross(round) + *meter);
}

}  // namespace whichlink::sheets
