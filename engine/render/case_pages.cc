#include <fmt/format.h>

#include <algorithm>

#include "moves/standing.h"
#include "render/pages.h"

namespace whichlink::render {
namespace {

constexpr std::size_t kBarColumns = 20;
constexpr std::size_t kNameColumns = 36;
constexpr std::size_t kSuspectsShown = 5;
const std::string kLabelBlank = "          ";

std::string labelled(const std::string& label, const std::string& text, const Style& style) {
  std::string body = wrapped(text, kLabelBlank, style.width);
  return bold(padded("  " + label, kLabelBlank.size()), style) + body.substr(kLabelBlank.size());
}

struct PartSuspicion {
  PartId part;
  double chance = 0;
  bool in_the_way = true;
};

// Parts in the order of the signal: those on the way now, and those that were on it at the start.
std::vector<PartSuspicion> suspicion_by_part(const guide::Case& one, const plan::Picture& picture) {
  const moves::Setting& setting = one.setting();
  const chain::Chain& chain = setting.chain();
  const RouteId route = one.standing().route;
  const auto now =
      moves::parts_of(chain, setting.tracer().trace(route, one.standing().patching).path);
  const auto first = moves::parts_of(chain, setting.tracer().trace(route, chain.home).path);
  std::vector<PartId> order = first;
  for (const PartId part : now) {
    if (std::find(order.begin(), order.end(), part) == order.end()) order.push_back(part);
  }
  std::vector<PartSuspicion> all;
  for (const PartId part : order) {
    double sound = 1;
    for (const ElementId element : chain.parts[part].elements) {
      for (const FaultId fault : setting.faults_of(element)) {
        sound *= picture.marginal[fault.value][belief::kAbsent];
      }
    }
    all.push_back({part, 1 - sound, std::find(now.begin(), now.end(), part) != now.end()});
  }
  return all;
}

std::string chain_with_bars(const guide::Case& one, const plan::Picture& picture,
                            const Style& style) {
  const chain::Chain& chain = one.setting().chain();
  std::string out;
  std::string place;
  for (const PartSuspicion& part : suspicion_by_part(one, picture)) {
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

std::string report_words(const faults::Rules& rules, const faults::Signal& signal, SenseId sense,
                         std::size_t outcome) {
  const faults::Sense& one = rules.senses[sense];
  const faults::Symptom& symptom =
      outcome < one.symptoms.size() ? one.symptoms[outcome] : *one.elsewhere;
  const auto special = signal.symptom_words.find(symptom.name);
  const bool own_sense = signal.sense == sense;
  return own_sense && special != signal.symptom_words.end() ? special->second : symptom.words;
}

std::string opening_page(const guide::Case& one, const Style& style) {
  const moves::Installation& installation = one.setting().installation();
  const faults::Rules& rules = installation.rules;
  std::string out = heading(installation.name, style);
  const guide::Report& complaint = one.events().complaint;
  out += wrapped(
      fmt::format("{} is reported {}. It last passed a check {:g} day{} ago.", one.events().route,
                  complaint.drop_db ? fmt::format("weak by {:g} dB", *complaint.drop_db)
                                    : "\"" + complaint.heard + "\"",
                  one.setting().days_since_pass(), one.setting().days_since_pass() == 1 ? "" : "s"),
      "", style.width);
  out += "\n" + warning("Before anything else", style) + "\n";
  for (const std::size_t caution : rules.always) {
    out += wrapped(rules.cautions[caution].words, "  - ", style.width);
  }
  return out;
}

std::string step_page(const guide::Case& one, const guide::Advice& advice,
                      const plan::Picture& picture, const moves::Move& move, const Style& style) {
  const moves::Setting& setting = one.setting();
  const chain::Chain& chain = setting.chain();
  std::string out = "\n" + heading(fmt::format("Step {}, {} so far", one.steps().size() + 1,
                                               minutes(one.minutes_spent())),
                                   style);
  out += chain_with_bars(one, picture, style);
  out += "  Suspects now" + sureness(picture) + "\n" + suspects_list(one, picture, style);
  out += "\n" + labelled("Do", moves::instruction(setting, one.standing(), move), style);
  std::string where = chain.places[move.acts_at].name;
  if (move.ends_at != move.acts_at)
    where += ", listening in the " + chain.places[move.ends_at].name;
  out += labelled("Where", where + "; about " + minutes(move.minutes), style);
  std::string mind;
  for (const std::size_t caution : move.cautions) {
    mind += (mind.empty() ? "" : " ") + setting.rules().cautions[caution].words;
  }
  if (!mind.empty()) out += labelled("Mind", mind, style);
  for (const plan::Candidate& candidate : advice.plan.candidates) {
    if (candidate.move.name != move.name) continue;
    std::string why;
    if (advice.reason == "verify") why = "To be sure before the case is closed. ";
    if (advice.reason == "put back") why = "The rest is checked with everything in its place. ";
    std::vector<std::pair<double, std::string>> outcomes;
    const faults::Signal& signal = setting.rules().signals[chain.routes[move.heard_on].signal];
    for (std::size_t index = 0; index < candidate.prediction.size(); ++index) {
      const double chance = candidate.prediction[index].chance;
      if (chance >= 0.02) {
        outcomes.emplace_back(chance, report_words(setting.rules(), signal, move.sense, index));
      }
    }
    std::stable_sort(outcomes.begin(), outcomes.end(),
                     [](const auto& a, const auto& b) { return a.first > b.first; });
    std::string chances;
    for (const auto& [chance, words] : outcomes) {
      chances += (chances.empty() ? "" : ", ") + words + " " + percent(chance);
    }
    why += "Expect " + chances +
           fmt::format(". It splits the suspects by {:.2f} bit",
                       one.belief().bits(one.standing(), candidate.move));
    why += "; " + minutes(candidate.expected_minutes) + " to the end, this move included.";
    out += labelled("Why", why, style);
  }
  return out;
}

std::string answer_line(const guide::Case& one, const moves::Move& move, const Style& style) {
  const faults::Rules& rules = one.setting().rules();
  const faults::Sense& sense = rules.senses[move.sense];
  const faults::Signal& signal = rules.signals[one.setting().chain().routes[move.heard_on].signal];
  std::vector<std::pair<std::string, std::string>> keys;
  bool levels = false;
  for (std::size_t index = 0; index < sense.symptoms.size(); ++index) {
    keys.emplace_back(sense.symptoms[index].key, report_words(rules, signal, move.sense, index));
    levels = levels || sense.symptoms[index].drop_db.has_value();
  }
  if (sense.elsewhere) keys.emplace_back(sense.elsewhere->key, sense.elsewhere->words);
  if (levels) keys.emplace_back("-25", "any other drop in dB, typed");
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
  const moves::Setting& setting = one.setting();
  std::string out = "\n";
  const auto block = [&](const std::string& title, const std::vector<std::string>& lines) {
    if (lines.empty()) return;
    out += bold(title, style) + "\n";
    for (const std::string& line : lines) out += wrapped(line, "  - ", style.width);
  };
  switch (ending.stage) {
    case guide::Stage::mended:
      out += heading("Mended: " + one.events().route + " is sound again as far as can be heard",
                     style);
      break;
    case guide::Stage::nothing_found:
      out += heading("Nothing found: " + one.events().route + " stands every stress now", style);
      break;
    case guide::Stage::handed_over:
      out += heading("Call service: hand over " + one.events().route, style);
      break;
    case guide::Stage::under_way:
      out += heading("Put aside: " + one.events().route, style);
      break;
  }
  out += wrapped(
      fmt::format("{} moves, {}. Chance that something is still wrong: {}.", one.steps().size(),
                  minutes(one.minutes_spent()), percent(ending.still_wrong)),
      "", style.width);
  std::vector<std::string> causes;
  for (const guide::Suspect& cause : ending.causes) {
    causes.push_back(percent(cause.chance) + " " + cause.words);
  }
  block("What was wrong, and how sure", causes);
  block("What was done", ending.repairs);
  block("Stood the stress since", ending.verified);
  block("Put back where it belongs", ending.put_back);
  block("Before the next patient or use", ending.needs_after);
  block("Throw out, and label as bad", ending.throw_out);
  block("Back to the drawer", ending.return_to_drawer);
  if (ending.stage == guide::Stage::handed_over) {
    block("Already ruled out (under 1 %)", ending.ruled_out);
    std::vector<std::string> done;
    for (const guide::Step& step : one.steps()) {
      done.push_back(moves::short_words(setting, step.move) + ": " +
                     (step.report.drop_db ? fmt::format("weak by {:g} dB", *step.report.drop_db)
                                          : step.report.heard));
    }
    block("What was done and heard", done);
  }
  if (ending.unlisted >= 0.05) {
    out +=
        wrapped("A cause that these rules do not list stands at " + percent(ending.unlisted) + ".",
                "", style.width);
  }
  block("Works meanwhile", ending.works_meanwhile);
  block("Do not use", ending.do_not_use);
  block("Always", ending.cautions);
  return out;
}

}  // namespace whichlink::render
