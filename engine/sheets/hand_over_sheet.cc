#include "sheets/hand_over_sheet.h"

#include <fmt/format.h>

#include "guide/bring.h"
#include "render/text.h"
#include "sheets/case_words.h"
#include "sheets/html.h"
#include "sheets/names.h"

namespace whichlink::sheets {
namespace {

constexpr std::size_t kMostSuspects = 8;
constexpr double kWorthALine = .005;  // below, it would read as nothing

const std::string kHandOverStyle =
    R"css(.apart{border:.15rem dashed #000;padding:.1rem .9rem;margin:1rem 0}
.chances td{width:9rem}
@media print{.apart{break-inside:avoid}.people{break-inside:avoid}}
)css";

std::vector<Words> items_of(const guide::Case& one, const std::vector<std::string>& lines) {
  std::vector<Words> words;
  words.reserve(lines.size());
  for (const std::string& line : lines) {
    words.emplace_back(said_names(one.setting().chain(), line));
  }
  return words;
}

/// A heading with a list, or nothing.
Block listed_under(const guide::Case& one, const std::string& title,
                   const std::vector<std::string>& lines) {
  return lines.empty() ? Block() : section(2, title, list(items_of(one, lines), "two"));
}

std::string last_passed(const guide::Case& one) {
  const double days = one.setting().days_since_pass();
  if (days < 1) return "a check less than a day before";
  return fmt::format("a check {:.0f} day{} before", days, days < 1.5 ? "" : "s");
}

Block complaint(const guide::Case& one, const CaseOnPaper& about, const guide::Ending& ending) {
  std::vector<std::pair<Words, Words>> lines = {
      {"Route", strong(name(one.events().route))},
      {"Complaint", complaint_of(one)},
      {"Last passed", last_passed(one)},
      {"Tried",
       fmt::format("{} moves, {}", one.steps().size(), render::minutes(one.minutes_spent()))},
      {"Outcome",
       ending.stage == guide::Stage::under_way ? "not found yet" : guide::name_of(ending.stage)}};
  if (!about.opened.empty()) lines.emplace_back("Opened", said_moment(about.opened));
  if (!about.number.empty()) lines.emplace_back("Case", "number " + about.number + " on record");
  return facts(lines);
}

Block not_put_back(const guide::Case& one, const guide::Ending& ending) {
  if (ending.put_back.empty()) return paragraph("Every plug is where it belongs.");
  return section(2, "Still to be put back", list(items_of(one, ending.put_back)), "apart");
}

std::string line_of(const guide::Case& one, const guide::Suspect& suspect) {
  return capital(said_names(one.setting().chain(), suspect.words));
}

Block causes(const guide::Case& one, const guide::Ending& ending) {
  Table found{"", {"Cause", "how sure"}, {}, "chances"};
  for (const guide::Suspect& cause : ending.causes) {
    found.rows.push_back({line_of(one, cause), render::percent(cause.chance)});
  }
  return section(2, "What it was, as far as anybody can tell",
                 found.rows.empty() ? paragraph("Nothing stands out.") : table(found));
}

Block suspects(const guide::Case& one) {
  const plan::Picture picture = one.picture();
  Table ranked{"", {"Cause", "how likely now"}, {}, "chances"};
  for (const guide::Suspect& suspect : one.suspects(picture)) {
    if (suspect.chance < kWorthALine || ranked.rows.size() == kMostSuspects) break;
    ranked.rows.push_back({line_of(one, suspect), render::percent(suspect.chance)});
  }
  Block body = ranked.rows.empty() ? paragraph("Nothing stands out.") : table(ranked);
  body += paragraph(
      "These are chances, reckoned from the rates of such faults and from what was "
      "heard. More than one thing can be wrong.");
  return section(2, "What it may be", body);
}

Block bring(const guide::Case& one) {
  const moves::Setting& setting = one.setting();
  Table parts{"", {"Part", "on this route", "chance that it is bad", "in our drawer"}, {}, ""};
  for (const guide::PartInDoubt& doubt : guide::parts_in_doubt(one)) {
    const chain::Part& part = setting.chain().parts[doubt.part];
    const faults::PartKind& kind = setting.rules().part_kinds[part.kind];
    parts.rows.push_back({capital(kind.words), name(part.name), render::percent(doubt.chance),
                          doubt.lies_ready ? "yes, a spare" : "no"});
  }
  if (parts.rows.empty()) return {};
  return section(2, "Parts to bring", table(parts));
}

Block done(const guide::Case& one) {
  if (one.steps().empty()) {
    return section(2, "Done and heard", paragraph("Nothing has been tried yet."));
  }
  Table steps{"", {"Step", "what was done", "what was heard or seen"}, {}, ""};
  std::size_t number = 0;
  for (const guide::Step& step : one.steps()) {
    steps.rows.push_back(
        {fmt::format("{}", ++number),
         capital(said_names(one.setting().chain(), moves::short_words(one.setting(), step.move))),
         heard_at(one, step)});
  }
  return section(2, "Done and heard, in this order", table(steps));
}

Block exchanged(const guide::Case& one) {
  const chain::Chain& chain = one.setting().chain();
  std::vector<Words> lines;
  for (const moves::Substitute& swap : one.standing().substituted) {
    lines.push_back(name(chain.parts[swap.in].name) + " is in; " +
                    name(chain.parts[swap.out].name) + " is out.");
  }
  return lines.empty() ? Block() : section(2, "Put in and taken out", list(lines));
}

Block people() {
  Block lines;
  for (const char* label : {"Called on", "Called by, and where to reach us", "Service, and number",
                            "Agreed", "Found and done", "Tested afterwards by", "Date"}) {
    lines += blank(label);
  }
  return section(2, "To be written in",
                 paragraph("Write no patient's name or number on this page.") + lines, "people");
}

}  // namespace

std::string hand_over_sheet(const guide::Case& one, const CaseOnPaper& about) {
  const guide::Ending ending = one.ending(one.advise().stage);
  const bool is_over =
      ending.stage == guide::Stage::mended || ending.stage == guide::Stage::nothing_found;
  Page around;
  around.title = "For the service engineer";
  around.about = one.setting().installation().name;
  around.date = about.date;
  around.style = kHandOverStyle;
  return page(around,
              complaint(one, about, ending) + not_put_back(one, ending) +
                  (is_over ? causes(one, ending) : suspects(one)) + bring(one) + done(one) +
                  exchanged(one) +
                  listed_under(one, "Ruled out, or hardly possible (under 1 %)", ending.ruled_out) +
                  listed_under(one, "Found bad: label it, and keep it out of the drawer",
                               ending.throw_out) +
                  listed_under(one, "Not to be used", ending.do_not_use) +
                  listed_under(one, "Works meanwhile", ending.works_meanwhile) +
                  listed_under(one, "Before it is used again", ending.needs_after) +
                  cautions(ending.cautions, "Mind") + people());
}

}  // namespace whichlink::sheets
