#include "render/check_pages.h"

#include <fmt/format.h>

#include <algorithm>

#include "moves/standing.h"
#include "render/check_words.h"
#include "render/pages.h"
#include "routine/chances.h"

namespace whichlink::render {
namespace {

using routine::Kind;
using routine::Step;
using routine::Verdict;

std::string in_one(const std::vector<std::string>& sentences) {
  std::string text;
  for (const std::string& one : sentences) text += (text.empty() ? "" : " ") + one;
  return text;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] -= 'a' - 'A';
  return text;
}

// "2026-11-26T08:30" as people write it.
std::string day_and_minute(std::string at) {
  std::replace(at.begin(), at.end(), 'T', ' ');
  return at;
}

// A sentence a place, in the order in which somebody comes by.
std::string stresses_line(const moves::Setting& setting, const Step& step) {
  const chain::Chain& chain = setting.chain();
  std::vector<std::string> sentences;
  for (const StressedPlace& place : stressed_places(setting, step)) {
    std::vector<std::string> here;
    for (const auto& [element, stress] : place.stresses) {
      here.push_back(moves::with_it(setting.rules().stresses[stress].short_words,
                                    chain.elements[element].name));
    }
    sentences.push_back(capital(chain.places[place.place].name) + ": " + listed(here) + ".");
  }
  return in_one(sentences);
}

using Keys = std::vector<std::pair<std::string, std::string>>;

Keys keys_of(const routine::Round& round, const Step& step) {
  if (step.kind == Kind::look) return {{"y", "yes"}, {"n", "no"}};
  if (step.kind == Kind::sweep) return {{"y", "yes, all of them"}, {"n", "no, not all"}};
  if (step.kind == Kind::thresholds) {
    return {{"y", fmt::format("none has changed by more than {:g} dB", round.trip_db())},
            {"15", "the largest change in dB, typed; down or up"}};
  }
  if (step.is_pair()) {
    return {{"y", routine::kAsItShould},
            {"x", routine::kSwapped},
            {"1", routine::kOneSide},
            {"2", routine::kBothInOne},
            {"n", "one of them is not right in another way"}};
  }
  const faults::Rules& rules = round.setting().rules();
  const faults::Signal& signal =
      rules.signals[round.setting().chain().routes[step.routes.front()].signal];
  const faults::Sense& sense = rules.senses[signal.sense];
  Keys keys;
  bool levels = false;
  for (std::size_t index = 0; index < sense.symptoms.size(); ++index) {
    keys.emplace_back(sense.symptoms[index].key, report_words(rules, signal, signal.sense, index));
    levels = levels || sense.symptoms[index].drop_db.has_value();
  }
  if (sense.elsewhere) {
    keys.emplace_back(sense.elsewhere->key,
                      report_words(rules, signal, signal.sense, sense.symptoms.size()));
  }
  if (levels) keys.emplace_back("-25", "any other drop in dB, typed");
  return keys;
}

bool takes_levels(const routine::Round& round, const Step& step) {
  return !step.routes.empty() &&
         routine::levels_of(round.setting(), step.routes.front(), "", {}).has_value();
}

// Items in two columns where both fit.
std::string in_columns(const Keys& keys, const Style& style) {
  const std::size_t column = style.width / 2;
  std::string out;
  std::string left;  // an item that still may have a neighbour
  const auto end_line = [&] {
    if (!left.empty()) out += left + "\n";
    left.clear();
  };
  for (const auto& [key, words] : keys) {
    const std::string first = "  " + bold(key, style) + "  ";
    if (columns(first) + columns(words) >= column) {
      end_line();
      out += wrapped(words, first, style.width);
    } else if (left.empty()) {
      left = first + words;
    } else {
      left = padded(left, column);
      left += first;
      left += words;
      end_line();
    }
  }
  end_line();
  return out;
}

std::string block(const std::string& title, const std::vector<std::string>& lines,
                  const Style& style) {
  if (lines.empty()) return "";
  std::string out = bold(title, style) + "\n";
  for (const std::string& line : lines) out += wrapped(line, "  - ", style.width);
  return out;
}

std::string minutes_of(const routine::Plan& plan) {
  const double all =
      plan.listening_minutes + plan.stressing_minutes + plan.walking_minutes + plan.looking_minutes;
  std::string text =
      fmt::format("About {} in all: listening {}, stressing by hand {}", minutes(all),
                  minutes(plan.listening_minutes), minutes(plan.stressing_minutes));
  text += fmt::format(", walking {}, looking over {}.", minutes(plan.walking_minutes),
                      minutes(plan.looking_minutes));
  const bool walks = plan.walking_minutes > 0;
  return text + (walks && plan.least_walking ? " No other order has less walking." : "");
}

std::string trip_words(const routine::Round& round) {
  const moves::Setting& setting = round.setting();
  const faults::TripLevel& trip = *setting.rules().routine->trip;
  const routine::TripCost cost = routine::trip_cost(setting, round.plan().list, round.trip_db());
  if (cost.thresholds == 0) return "";
  std::string text = fmt::format(
      "{} own thresholds, and a change of more than {:g} dB counts: a sound room then fails {} of "
      "its checks.",
      cost.thresholds, round.trip_db(), percent(cost.false_alarm));
  for (const double other : trip.choices_db) {
    if (other == round.trip_db()) continue;
    text += fmt::format(" With --trip {:g} it would be {}.", other,
                        percent(routine::trip_cost(setting, round.plan().list, other).false_alarm));
  }
  return text + " A threshold that has changed is taken once more before it counts.";
}

std::string wrong_words(const routine::RouteOutcome& route) {
  std::string text =
      route.report.heard == guide::kNotSure ? "something not right" : report_text(route.report);
  const std::string when = when_words(route.when);
  return when.empty() ? text : text + ", " + when;
}

std::string route_line(const routine::RouteOutcome& route, const Style& style) {
  std::string more;
  switch (route.verdict) {
    case Verdict::passed:
      more = route.stressed ? "stressed throughout" : "heard untouched";
      break;
    case Verdict::mended:
    case Verdict::failed:
      more = wrong_words(route);
      if (route.isolated == guide::Stage::nothing_found ||
          route.isolated == guide::Stage::handed_over) {
        more += "; " + stage_words(*route.isolated);
      }
      break;
    case Verdict::not_checked:
      more = route.report.heard;
      break;
  }
  const std::size_t name_columns = std::min<std::size_t>(style.width / 3, 26);
  const std::string verdict =
      more.empty() ? verdict_words(route.verdict) : padded(verdict_words(route.verdict), 13);
  const std::string first = "  " + padded(cut(route.route, name_columns - 1, style), name_columns) +
                            (route.verdict == Verdict::failed ? bold(verdict, style) : verdict);
  return more.empty() ? first + "\n" : wrapped(more, first, style.width);
}

}  // namespace

std::string check_opening_page(const routine::Round& round, const Style& style) {
  const moves::Setting& setting = round.setting();
  const faults::Rules& rules = setting.rules();
  const faults::RoutineList& list = rules.routine->lists[round.plan().list];
  std::string out = heading(setting.installation().name, style);
  out += wrapped(fmt::format("Check \"{}\": {}. {} steps.", list.name, list.words, round.steps()),
                 "", style.width);
  out += wrapped(minutes_of(round.plan()), "", style.width);
  if (round.plan().walking_minutes_by_two < round.plan().walking_minutes) {
    out += wrapped(fmt::format("With somebody at each end, walking is {}.",
                               minutes(round.plan().walking_minutes_by_two)),
                   "", style.width);
  }
  out += wrapped(
      fmt::format(
          "By the rules' figures something sounds wrong in {} of the checks of a sound room: "
          "stress what you heard a second time before you answer.",
          percent(routine::chance_false_alarm_of_list(setting, round.plan().list,
                                                      round.events().listener))),
      "", style.width);
  if (rules.routine->trip) {
    const std::string trip = trip_words(round);
    if (!trip.empty()) out += wrapped(trip, "", style.width);
  }
  std::vector<std::string> not_on_it;
  for (const RouteId route : round.plan().left_out) {
    not_on_it.push_back(setting.chain().routes[route].name);
  }
  if (!not_on_it.empty()) {
    out += wrapped("Not on this list: " + listed(not_on_it) + ".", "", style.width);
  }
  out += "\n" + warning("Before anything else", style) + "\n";
  for (const std::string& words : all_cautions(round)) out += wrapped(words, "  - ", style.width);
  return out;
}

std::string check_step_page(const routine::Round& round, const Step& step, const Style& style) {
  const moves::Setting& setting = round.setting();
  const chain::Chain& chain = setting.chain();
  std::string out = "\n" + heading(fmt::format("Step {} of {}: {}", round.answered() + 1,
                                               round.steps(), step_title(setting, step)),
                                   style);
  if (step.item) {
    out += labelled("Do", setting.rules().routine->items[*step.item].words, style);
  } else {
    std::string where = chain.places[step.to].name;
    if (step.from != step.to) {
      where = "set it up: " + chain.places[step.from].name + "; listen: " + where;
    }
    out += labelled("Where", where, style);
    out += labelled(step.kind == Kind::thresholds ? "Take" : "Play", routine::plays(setting, step),
                    style);
    if (step.kind == Kind::listen) {
      out += labelled("Hear", routine::expects(setting, step), style);
      if (!step.stresses.empty()) out += labelled("Stress", stresses_line(setting, step), style);
    }
  }
  const std::string mind = in_one(step_cautions(setting, step));
  if (!mind.empty() && step.kind != Kind::sweep) out += labelled("Mind", mind, style);
  return out;
}

std::string check_answer_line(const routine::Round& round, const Step& step, const Style& style) {
  std::string more = "  ";
  if (step.kind != Kind::look) more += "u not sure  ";
  more += "k cannot do it  b take back  ";
  if (takes_levels(round, step)) more += "l level from a meter  ";
  return bold(step_question(round.setting(), step), style) + "\n" +
         in_columns(keys_of(round, step), style) + dim(more + "h help  q stop", style) + "\n";
}

std::string check_help_page(const routine::Round& round, const Step& step, const Style& style) {
  std::string out = "\n";
  const auto say = [&](const std::string& text) { out += wrapped(text, "  ", style.width); };
  switch (step.kind) {
    case Kind::look:
      say("Yes means that all is as it should be. After a no: " +
          round.setting().rules().routine->items[*step.item].if_not);
      break;
    case Kind::listen:
      say("Listen first, then stress what is listed, one thing after the other, the signal "
          "running. "
          "One answer for all of it.");
      if (step.is_pair()) {
        say("Whatever is wrong but swapped sides, each side is then asked for alone.");
      }
      break;
    case Kind::sweep:
      say("A listener of known good hearing hears every one. After a no, each side is asked for "
          "alone.");
      break;
    case Kind::thresholds:
      say("Type the change that is largest, in dB against your baseline: 15, or -15 for better. "
          "Take a threshold that has changed once more before you type it.");
      say(round.setting().rules().routine->trip->because);
      break;
  }
  const auto levels = step.routes.empty()
                          ? Result<const faults::ReferenceLevels*>(tl::unexpected(Problems{}))
                          : routine::levels_of(round.setting(), step.routes.front(), "", {});
  if (levels) {
    say(
        fmt::format("l: the dial at {:g} dB, then frequency and reading, as in \"1000 77.5\"; of a "
                    "pair with the side first, \"left 1000 77.5\". It is held against {}:{} on {} "
                    "({}) unless --coupler names another.",
                    (*levels)->dial_db, (*levels)->standard, (*levels)->year, (*levels)->coupler,
                    (*levels)->name));
  }
  say("u: no answer that means anything. k: it cannot be done now; the route stays unchecked. b "
      "takes "
      "the last answer back. q stops here and shows what was found.");
  return out;
}

std::string when_line(const Style& style) {
  return bold("Was it there before anything was moved?", style) + "\n" +
         in_columns({{"y", "yes, untouched"}, {"n", "no, only under stress"}}, style) +
         dim("  u not sure  b take back", style) + "\n";
}

std::string failed_line(const routine::Round& round, RouteId route, const Style& style) {
  const std::string& name = round.setting().chain().routes[route].name;
  const std::vector<routine::RouteOutcome> routes = round.outcome().routes;
  std::string out = "\n" + wrapped(name + " has failed: " + wrong_words(routes[route.value]) + ".",
                                   "", style.width);
  return out + in_columns({{"i", "isolate it now"}, {"g", "go on with the check"}}, style) +
         dim("  b take back  q stop", style) + "\n";
}

std::string level_line(const routine::Level& level, const Style& style) {
  return wrapped(
      fmt::format("{}, {:g} Hz: {:g} dB read, {:g} expected ({}): {:+.1f} dB, limit {:g}: {}",
                  level.route, level.hz, level.measured_db, level.expected_db, level.set,
                  level.deviation_db, level.within_db, level.passed ? "passed" : "FAILED"),
      "  ", style.width);
}

std::string check_result_page(const routine::Round& round, const Style& style) {
  const routine::Outcome outcome = round.outcome();
  const faults::Rules& rules = round.setting().rules();
  const auto count = [&](Verdict verdict) {
    return std::count_if(outcome.routes.begin(), outcome.routes.end(),
                         [&](const auto& one) { return one.verdict == verdict; });
  };
  std::string head = "Check \"" + outcome.list + "\"";
  if (!outcome.at.empty()) head += ", " + day_and_minute(outcome.at);
  std::string out = "\n" + heading(head, style);
  out += wrapped(
      fmt::format("{} passed, {} failed, {} mended, {} not checked.{}", count(Verdict::passed),
                  count(Verdict::failed), count(Verdict::mended), count(Verdict::not_checked),
                  outcome.complete ? "" : " Stopped before the end."),
      "", style.width);
  for (const routine::RouteOutcome& route : outcome.routes) out += route_line(route, style);
  if (!outcome.levels.empty()) {
    out += bold("Levels", style) + "\n";
    for (const routine::Level& level : outcome.levels) out += level_line(level, style);
  }
  std::vector<std::string> amiss;
  std::size_t undone = 0;
  for (const routine::ItemOutcome& item : outcome.items) {
    if (item.answer.empty() || item.answer == guide::kCannotDo) ++undone;
    if (item.answer != routine::kNo) continue;
    const auto found = std::find_if(rules.routine->items.begin(), rules.routine->items.end(),
                                    [&](const auto& one) { return one.name == item.item; });
    amiss.push_back(item.item + ": " + found->if_not);
  }
  out += block("Not as it should be", amiss, style);
  if (undone > 0) {
    out += wrapped(
        fmt::format("{} of {} things to look at were left out.", undone, outcome.items.size()), "",
        style.width);
  }
  std::vector<std::string> works;
  for (const routine::RouteOutcome& route : outcome.routes) {
    if (route.verdict == Verdict::passed) works.push_back(route.route);
    if (route.verdict != Verdict::failed) continue;
    out += "\n" + warning("DO NOT USE: " + route.route, style) + "\n";
    out +=
        wrapped(fmt::format("{}. {}.{}", outcome.installation, capital(wrong_words(route)),
                            outcome.at.empty() ? "" : " Found " + day_and_minute(outcome.at) + "."),
                "  ", style.width);
  }
  if (count(Verdict::failed) > 0) {
    out += "\n" + block("Before a failed route is used again", rules.routine->if_failed, style);
  }
  out += block("Works meanwhile", works, style);
  out += block("Always", all_cautions(round), style);
  return out;
}

}  // namespace whichlink::render
