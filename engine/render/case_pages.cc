#include <fmt/format.h>

#include <algorithm>

#include "moves/standing.h"
#include "render/pages.h"

namespace whichlink::render {
namespace {

constexpr std::size_t kBarColumns = 20;
constexpr std::size_t kNameColumns = 36;
constexpr std::size_t kSuspectsShown = 5;

std::string chain_with_bars(const guide::Case& one, const Style& style) {
  const chain::Chain& chain = one.setting().chain();
  std::string out;
  std::string place;
  for (const PartSuspicion& part : suspicion_by_part(one)) {
    const chain::Part& thing = chain.parts[part.part];
    const std::string here = chain.places[thing.place].name;
    std::string name = (here == place ? "" : here);
    place = here;
    std::string label = thing.name;
    if (!part.in_the_way) label += style.unicode ? " · out of the way" : " (out of the way)";
    const std::string line = "  " + padded(cut(name, 13, style), 14) +
                             padded(cut(label, kNameColumns - 1, style), kNameColumns) +
                             padded(percent(part.chance), 7) + bar(part.chance, kBarColumns, style);
    out += (part.in_the_way ? line : dim(line, style)) + "\n";
  }
  return out;
}

std::string suspects_list(const guide::Case& one, const plan::Picture& picture,
                          const Style& style) {
  std::string out;
  std::size_t shown = 0;
  for (const guide::Suspect& suspect : one.suspects(picture)) {
    if (shown++ == kSuspectsShown || suspect.chance < 0.005) break;
    out += wrapped(suspect.words, "  " + padded(percent(suspect.chance), 6) + " ", style.width);
  }
  if (out.empty()) out = "  nothing stands out any more\n";
  return out;
}

std::string sureness(const plan::Picture& picture) {
  if (picture.exact) return "";
  return fmt::format(" (within {:.1g})", picture.left_out);
}

std::string answer_item(const std::string& key, const std::string& words) {
  return "  " + key + "  " + words;
}

}  // namespace

std::string opening_page(const guide::Case& one, const Style& style) {
  const moves::Installation& installation = one.setting().installation();
  const faults::Rules& rules = installation.rules;
  std::string out = heading(installation.name, style);
  out += wrapped(complaint_words(one), "", style.width);
  out += "\n" + warning("Before anything else", style) + "\n";
  for (const std::string& words : caution_words(rules, rules.always)) {
    out += wrapped(words, "  - ", style.width);
  }
  return out;
}

std::string step_page(const guide::Case& one, const guide::Advice& advice,
                      const plan::Picture& picture, const moves::Move& move, const Style& style) {
  const moves::Setting& setting = one.setting();
  std::string out = "\n" + heading(fmt::format("Step {}, {} so far", one.steps().size() + 1,
                                               minutes(one.minutes_spent())),
                                   style);
  out += chain_with_bars(one, style);
  out += "  Suspects now" + sureness(picture) + "\n" + suspects_list(one, picture, style);
  out += "\n" + labelled("Do", moves::instruction(setting, one.standing(), move), style);
  out += labelled("Where", where_words(setting, move), style);
  std::string mind;
  for (const std::string& words : caution_words(setting.rules(), move.cautions)) {
    mind += (mind.empty() ? "" : " ") + words;
  }
  if (!mind.empty()) out += labelled("Mind", mind, style);
  const std::string why = expected_words(one, advice, move);
  if (!why.empty()) out += labelled("Why", why, style);
  return out;
}

std::string answer_line(const guide::Case& one, const moves::Move& move, const Style& style) {
  const faults::Rules& rules = one.setting().rules();
  const faults::Sense& sense = rules.senses[move.sense];
  const faults::Signal& signal = rules.signals[one.setting().chain().routes[move.heard_on].signal];
  std::vector<std::pair<std::string, std::string>> keys;
  for (const Answer& answer : answers_of(rules, signal, move.sense)) {
    keys.emplace_back(answer.key, answer.words);
  }
  if (has_levels(sense)) keys.emplace_back("-25", "any other drop in dB, typed");
  // Two columns where both fit.
  const std::size_t column = style.width / 2;
  std::string out = bold(sense.asks, style) + "\n";
  bool at_left = true;
  for (const auto& [key, words] : keys) {
    const std::string item = answer_item(bold(key, style), words);
    const std::size_t used = columns(answer_item(key, words));
    if (used >= column) {
      if (!at_left) out += "\n";
      out += wrapped(words, "  " + bold(key, style) + "  ", style.width);
      at_left = true;
      continue;
    }
    out += item + (at_left ? std::string(column - used, ' ') : "\n");
    at_left = !at_left;
  }
  if (!at_left) out += "\n";
  return out +
         dim("  u not sure  k cannot do it  w why  o other moves  b take back  q put aside",
             style) +
         "\n";
}

std::string others_page(const guide::Case& one, const guide::Advice& advice, const Style& style) {
  std::string out =
      heading("Other moves, best first (number and Enter; Enter alone goes back)", style);
  out += dim("      to the end   now       bits  move", style) + "\n";
  std::size_t number = 0;
  bool idle_before = false;
  for (const plan::Candidate& candidate : advice.plan.candidates) {
    if (candidate.idle && !idle_before) out += dim("  these save nothing now:", style) + "\n";
    idle_before = candidate.idle;
    const std::string line = fmt::format("  {:>2}  {} {} {:>5.2f}  {}", ++number,
                                         padded(minutes(candidate.expected_minutes), 12),
                                         padded(minutes(candidate.move.minutes), 9),
                                         one.belief().bits(one.standing(), candidate.move),
                                         moves::short_words(one.setting(), candidate.move));
    out += cut(line, style.width, style) + "\n";
  }
  return out;
}

std::string rank_page(const guide::Case& one, const guide::Advice& advice,
                      const plan::Picture& picture, const Style& style) {
  std::string out = opening_page(one, style) + "\n";
  out += heading("Suspects", style);
  for (const guide::Suspect& suspect : one.suspects(picture)) {
    if (suspect.chance < 0.0005) break;
    const std::string share = suspect.chance < 0.1 ? fmt::format("{:.2f} %", suspect.chance * 100)
                                                   : fmt::format("{:.1f} %", suspect.chance * 100);
    out += "  " + padded(share, 8) + padded(bar(suspect.chance, 12, style), 13) +
           cut(suspect.name, style.width - 24, style) + "\n";
  }
  out += wrapped(
      fmt::format("A cause that is not listed: {}. {}", percent(picture.unlisted),
                  picture.exact
                      ? "Every set of faults was counted; nothing was left out."
                      : fmt::format("Left out at most {:.2g} of the whole.", picture.left_out)),
      "  ", style.width);
  if (advice.plan.ahead) out += bounds_words(*advice.plan.ahead, style);
  return out + "\n" + others_page(one, advice, style);
}

std::string ending_page(const guide::Case& one, const guide::Ending& ending, const Style& style) {
  const EndingWords words = ending_words(one, ending);
  std::string out = "\n" + heading(words.title, style) + wrapped(words.summary, "", style.width);
  for (const EndingWords::Block& block : words.blocks) {
    if (!block.title.empty()) out += bold(block.title, style) + "\n";
    const std::string lead = block.title.empty() ? "" : "  - ";
    for (const std::string& line : block.lines) out += wrapped(line, lead, style.width);
  }
  return out;
}

}  // namespace whichlink::render
