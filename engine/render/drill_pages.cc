#include "render/drill_pages.h"

#include <fmt/format.h>

#include <algorithm>

#include "moves/standing.h"
#include "render/drill_words.h"
#include "render/pages.h"

namespace whichlink::render {
namespace {

const faults::Signal& signal_of(const drill::Drill& drill) {
  const moves::Setting& setting = drill.isolation().setting();
  return setting.rules().signals[setting.chain().routes[drill.isolation().standing().route].signal];
}

std::string days(double count) {
  return fmt::format("{:g} day{}", count, count == 1 ? "" : "s");
}

}  // namespace

std::string drill_chain(const drill::Drill& drill, const Style& style) {
  const guide::Case& one = drill.isolation();
  const moves::Setting& setting = one.setting();
  const chain::Chain& chain = setting.chain();
  const RouteId route = one.standing().route;
  const auto now =
      moves::parts_of(chain, setting.tracer().trace(route, one.standing().patching).path);
  auto order = moves::parts_of(chain, setting.tracer().trace(route, chain.home).path);
  for (const PartId part : now) {
    if (std::find(order.begin(), order.end(), part) == order.end()) order.push_back(part);
  }
  std::string out;
  std::string place;
  std::string line;
  const auto finish = [&] {
    if (!line.empty()) out += wrapped(line, "  " + padded(place, kLabelColumns + 4), style.width);
    line.clear();
  };
  for (const PartId part : order) {
    const std::string& here = chain.places[chain.parts[part].place].name;
    if (here != place) finish();
    place = here;
    const bool in_the_way = std::find(now.begin(), now.end(), part) != now.end();
    line += (line.empty() ? "" : " - ") + chain.parts[part].name +
            (in_the_way ? "" : " (out of the way)");
  }
  finish();
  return out;
}

std::string drill_opening_page(const drill::Drill& drill, const DrillTitle& title,
                               const Style& style) {
  const moves::Setting& setting = drill.isolation().setting();
  const faults::Rules& rules = setting.rules();
  const drill::DrillCase& given = drill.given();
  std::string out = heading(
      fmt::format("Drill: {}, case {}, seed {}", title.lesson, title.number, given.seed), style);
  if (!title.goal.empty()) out += labelled("Goal", title.goal, style);
  out += "\n" + wrapped("Invented: " + setting.installation().name +
                            ". No patient, nobody's real room. The program plays the fault; you "
                            "find it, mend it or hand it over, and put everything back.",
                        "", style.width);
  if (!given.words.empty()) out += wrapped(given.words, "", style.width);
  const faults::Sense& sense = rules.senses[signal_of(drill).sense];
  const std::string heard =
      report_words(rules, signal_of(drill), signal_of(drill).sense, *sense.find(given.heard));
  out += wrapped(fmt::format("Reported on {}: {}. It last passed a check {} ago.", given.route,
                             heard, days(setting.days_since_pass())),
                 "", style.width);
  out += "\n" + bold("The chain, from its source", style) + "\n" + drill_chain(drill, style);
  out += "\n" + warning("At a real room, before anything else", style) + "\n";
  for (const std::size_t caution : rules.always) {
    out += wrapped(rules.cautions[caution].words, "  - ", style.width);
  }
  return out;
}

std::string drill_menu(const drill::Drill& drill, const std::vector<drill::MenuEntry>& menu,
                       const Style& style) {
  std::string out =
      "\n" +
      bold(fmt::format("Move {}, {} so far. What do you do?", drill.track().steps().size() + 1,
                       minutes(drill.track().minutes_spent())),
           style) +
      "\n";
  const std::size_t rows = (menu.size() + 1) / 2;
  const auto item = [&](std::size_t index) {
    const drill::MenuEntry& entry = menu[index];
    const std::string count = entry.moves.empty() ? "-" : std::to_string(entry.moves.size());
    return fmt::format("  {:>2}  {} {}", index + 1, padded(entry.words, 20), count);
  };
  for (std::size_t row = 0; row < rows; ++row) {
    std::string line = padded(item(row), style.width / 2);
    if (row + rows < menu.size()) line += item(row + rows);
    while (!line.empty() && line.back() == ' ') line.pop_back();
    out += line + "\n";
  }
  return out + dim("  close   call   suspect NAME .7   hint   chain   help   aside", style) + "\n";
}

std::string drill_kind_page(const drill::Drill& drill, const std::vector<drill::MenuEntry>& menu,
                            const drill::MenuEntry& kind, const Style& style) {
  const auto number = static_cast<std::size_t>(&kind - menu.data()) + 1;
  if (kind.moves.empty()) return "  Nothing of that is possible now.\n";
  std::string out;
  std::size_t count = 0;
  for (const moves::Move& move : kind.moves) {
    const std::string at = fmt::format("{}.{}", number, ++count);
    out += cut(fmt::format("  {:<6}{:<9}{}", at, minutes(move.minutes),
                           moves::short_words(drill.isolation().setting(), move)),
               style.width, style) +
           "\n";
  }
  return out;
}

std::string drill_help_page(const drill::Drill& drill, const Style& style) {
  std::string out;
  const auto line = [&](const std::string& word, const std::string& text) {
    out += wrapped(text, "  " + padded(word, 18), style.width);
  };
  line("2", "lists the moves of that kind; 2.3 makes the third of them");
  line("flex cord", "makes the move with these words, where only one has them");
  line("close", "you are done: the route goes back into use");
  line("call", "you hand the case over to service");
  line("suspect NAME .7", "what you think was wrong from the start, and how sure you are (0 to 1)");
  line("hint", "first a question, then what the best move tells apart, then the move");
  line("chain", "the route once more, with what is out of the way");
  line("aside", "stop here; nothing is kept");
  std::vector<std::string> names;
  for (const std::string& name : drill::suspect_names(drill.isolation())) {
    if (name.find_first_of(".:") == std::string::npos) names.push_back(name);
  }
  out += wrapped("You may suspect " + listed(names) +
                     "; or one of their pieces, or a fault, by the name that tables show.",
                 "  ", style.width);
  return out;
}

std::string drill_turn_page(const drill::Drill& drill, bool against, const Style& style) {
  const drill::Turn& turn = drill.turns().back();
  const moves::Setting& setting = drill.isolation().setting();
  std::string out =
      "\n" + bold(turn.words, style) + dim(" (" + minutes(turn.minutes) + ")", style) + "\n";
  out += labelled("Do", turn.instruction, style);
  std::string mind;
  for (const std::size_t caution : turn.chosen.move->cautions) {
    mind += (mind.empty() ? "" : " ") + setting.rules().cautions[caution].words;
  }
  if (!mind.empty()) out += labelled("Mind", mind, style);
  out += labelled("Answer", bold(answer_words(drill, turn), style), style);
  for (const std::string& sentence : told_words(drill, turn)) {
    out += wrapped(sentence, "  - ", style.width);
  }
  if (against) {
    std::string words = "The planner would do the same.";
    if (!turn.advised) {
      words = "The planner: " + turn.advised_words + ". ";
      words += turn.lost < .05 ? "Yours is as good."
                               : "Yours costs " + minutes(turn.lost) + " more, by what was known.";
    }
    out += labelled("Against", words, style);
  }
  return out;
}

std::string drill_hint_page(const drill::Drill& drill, const DrillTitle& title,
                            const Style& style) {
  const drill::Choice& advised = drill.values().advised();
  switch (drill.hint()) {
    case drill::Hint::none:
      return "";
    case drill::Hint::question: {
      // The lesson's own question comes once.
      const auto& events = drill.events();
      const bool first = std::count_if(events.begin(), events.end(), [](const drill::Event& one) {
                           return one.say == drill::Say::hint;
                         }) == 1;
      return wrapped(first ? title.hint : question_words(drill), "  ", style.width);
    }
    case drill::Hint::split:
      return wrapped(split_words(drill), "  ", style.width);
    case drill::Hint::move:
      break;
  }
  switch (advised.verdict) {
    case plan::Verdict::close:
      return "  The planner would close the case.\n";
    case plan::Verdict::service:
      return "  The planner would call service.\n";
    case plan::Verdict::move:
      break;
  }
  return wrapped(
      "The planner would " + moves::short_words(drill.isolation().setting(), *advised.move) + ".",
      "  ", style.width);
}

std::string drill_checks_page(const drill::Drill& drill, const Style& style) {
  std::string out = "\n" + bold("What must be done before the route is used again?", style) + "\n";
  std::size_t number = 0;
  for (const std::string& check : drill.all_checks()) {
    out += cut(fmt::format("  {:>2}  {}", ++number, check), style.width, style) + "\n";
  }
  return out + dim("  numbers with blanks between, or: nothing. You may still suspect.", style) +
         "\n";
}

std::string claim_line(const drill::Claim& claim, const Style& style) {
  return wrapped(fmt::format("Noted: {}, {}.", claim.name, percent(claim.sure)), "  ", style.width);
}

}  // namespace whichlink::render
