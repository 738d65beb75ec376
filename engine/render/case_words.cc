#include "render/case_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "moves/standing.h"
#include "render/text.h"

namespace whichlink::render {
namespace {

// A cause that is not listed is spoken of from this chance on, and a report is expected.
constexpr double kUnlistedShown = 0.05;
constexpr double kExpected = 0.02;

std::string ending_title(const guide::Case& one, guide::Stage stage) {
  const std::string& route = one.events().route;
  switch (stage) {
    case guide::Stage::mended:
      return "Mended: " + route + " is sound again as far as can be heard";
    case guide::Stage::nothing_found:
      return "Nothing found: " + route + " stands every stress now";
    case guide::Stage::handed_over:
      return "Call service: hand over " + route;
    case guide::Stage::under_way:
      break;
  }
  return "Put aside: " + route;
}

std::vector<std::string> causes(const guide::Ending& ending) {
  std::vector<std::string> lines;
  for (const guide::Suspect& cause : ending.causes) {
    lines.push_back(percent(cause.chance) + " " + cause.words);
  }
  return lines;
}

std::vector<std::string> done_and_heard(const guide::Case& one) {
  std::vector<std::string> lines;
  for (const guide::Step& step : one.steps()) {
    lines.push_back(moves::short_words(one.setting(), step.move) + ": " + report_text(step.report));
  }
  return lines;
}

// The reports that the move may well bring, likeliest first.
std::string chances_words(const guide::Case& one, const plan::Candidate& candidate) {
  const moves::Setting& setting = one.setting();
  const moves::Move& move = candidate.move;
  const faults::Signal& signal =
      setting.rules().signals[setting.chain().routes[move.heard_on].signal];
  std::vector<std::pair<double, std::string>> outcomes;
  for (std::size_t index = 0; index < candidate.prediction.size(); ++index) {
    const double chance = candidate.prediction[index].chance;
    if (chance < kExpected) continue;
    outcomes.emplace_back(chance, report_words(setting.rules(), signal, move.sense, index));
  }
  std::stable_sort(outcomes.begin(), outcomes.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::string text;
  for (const auto& [chance, words] : outcomes) {
    text += (text.empty() ? "" : ", ") + words + " " + percent(chance);
  }
  return text;
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

std::vector<Answer> answers_of(const faults::Rules& rules, const faults::Signal& signal,
                               SenseId sense) {
  const faults::Sense& one = rules.senses[sense];
  std::vector<Answer> all;
  for (std::size_t index = 0; index < one.symptoms.size(); ++index) {
    const faults::Symptom& symptom = one.symptoms[index];
    all.push_back({symptom.name, symptom.key, report_words(rules, signal, sense, index)});
  }
  if (one.elsewhere) {
    all.push_back({one.elsewhere->name, one.elsewhere->key,
                   report_words(rules, signal, sense, one.symptoms.size())});
  }
  return all;
}

bool has_levels(const faults::Sense& sense) {
  return std::any_of(sense.symptoms.begin(), sense.symptoms.end(),
                     [](const faults::Symptom& one) { return one.drop_db.has_value(); });
}

std::string report_text(const guide::Report& report) {
  return report.drop_db ? fmt::format("weak by {:g} dB", *report.drop_db) : report.heard;
}

std::string complaint_words(const guide::Case& one) {
  const guide::Report& complaint = one.events().complaint;
  const double days = one.setting().days_since_pass();
  return fmt::format("{} is reported {}. It last passed a check {:g} day{} ago.",
                     one.events().route,
                     complaint.drop_db ? report_text(complaint) : "\"" + complaint.heard + "\"",
                     days, days == 1 ? "" : "s");
}

std::vector<std::string> caution_words(const faults::Rules& rules,
                                       const std::vector<std::size_t>& cautions) {
  std::vector<std::string> words;
  words.reserve(cautions.size());
  for (const std::size_t caution : cautions) words.push_back(rules.cautions[caution].words);
  return words;
}

std::string where_words(const moves::Setting& setting, const moves::Move& move) {
  const chain::Chain& chain = setting.chain();
  std::string where = chain.places[move.acts_at].name;
  if (move.ends_at != move.acts_at) {
    where += ", listening in the " + chain.places[move.ends_at].name;
  }
  return where + "; about " + minutes(move.minutes);
}

std::string expected_words(const guide::Case& one, const guide::Advice& advice,
                           const moves::Move& move) {
  for (const plan::Candidate& candidate : advice.plan.candidates) {
    if (candidate.move.name != move.name) continue;
    std::string why;
    if (advice.reason == "verify") why = "To be sure before the case is closed. ";
    if (advice.reason == "put back") why = "The rest is checked with everything in its place. ";
    return why + "Expect " + chances_words(one, candidate) +
           fmt::format(". It splits the suspects by {:.2f} bit; {} to the end, this move included.",
                       one.belief().bits(one.standing(), candidate.move),
                       minutes(candidate.expected_minutes));
  }
  return "";
}

std::vector<PartSuspicion> suspicion_by_part(const guide::Case& one) {
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
  all.reserve(order.size());
  for (const PartId part : order) {
    all.push_back({part, one.belief().any_now(plan::faults_in(setting, part)),
                   std::find(now.begin(), now.end(), part) != now.end()});
  }
  return all;
}

EndingWords ending_words(const guide::Case& one, const guide::Ending& ending) {
  EndingWords words;
  words.title = ending_title(one, ending.stage);
  words.summary =
      fmt::format("{} moves, {}. Chance that something is still wrong: {}.", one.steps().size(),
                  minutes(one.minutes_spent()), percent(ending.still_wrong));
  const auto block = [&](const std::string& title, std::vector<std::string> lines) {
    if (!lines.empty()) words.blocks.push_back({title, std::move(lines)});
  };
  block("What was wrong, and how sure", causes(ending));
  block("What was done", ending.repairs);
  block("Stood the stress since", ending.verified);
  block("Put back where it belongs", ending.put_back);
  block("Before the next patient or use", ending.needs_after);
  block("Throw out, and label as bad", ending.throw_out);
  block("Back to the drawer", ending.return_to_drawer);
  if (ending.stage == guide::Stage::handed_over) {
    block("Already ruled out (under 1 %)", ending.ruled_out);
    block("What was done and heard", done_and_heard(one));
  }
  if (ending.unlisted >= kUnlistedShown) {
    block("", {"A cause that these rules do not list stands at " + percent(ending.unlisted) + "."});
  }
  block("Works meanwhile", ending.works_meanwhile);
  block("Do not use", ending.do_not_use);
  block("Always", ending.cautions);
  return words;
}

}  // namespace whichlink::render
