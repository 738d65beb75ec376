#include <fmt/format.h>

#include <algorithm>

#include "render/drill_pages.h"
#include "render/drill_words.h"
#include "render/pages.h"

namespace whichlink::render {
namespace {

// A loss below this is not worth a word, minutes.
constexpr double kMinutesWorthAWord = .05;

std::string came_to(const drill::Drill& drill, const drill::Score& score) {
  if (drill.stage() == drill::Stage::under_way) return "Put aside.";
  if (score.service) return "You called service.";
  const std::string how =
      score.not_put_back.empty() ? "You closed it" : "You closed it with something still changed";
  return how +
         (score.left_in ? ", and the fault is still in." : ", and nothing is wrong any more.");
}

std::string turn_lines(const drill::Drill& drill, const Style& style) {
  constexpr std::size_t kLost = 9;
  const std::size_t column = style.width - 6 - kLost;
  std::string out = dim("      lost     what you did, and what was heard", style) + "\n";
  std::size_t number = 0;
  for (const drill::Turn& turn : drill.turns()) {
    std::string what = turn.words;
    if (turn.chosen.move) what += ": " + report_text(turn.report);
    const std::string lost = turn.lost < kMinutesWorthAWord ? "-" : minutes(turn.lost);
    out += fmt::format("  {:>2}  {}{}\n", ++number, padded(lost, kLost), cut(what, column, style));
    if (turn.lost >= kMinutesWorthAWord) {
      out += wrapped("better: " + turn.advised_words, std::string(6 + kLost + 2, ' '), style.width);
    }
  }
  return out;
}

std::vector<std::pair<double, drill::Habit>> losses(const drill::Score& score) {
  std::vector<std::pair<double, drill::Habit>> all;
  for (std::size_t index = 0; index < score.by_habit.size(); ++index) {
    if (score.by_habit[index] < kMinutesWorthAWord) continue;
    all.emplace_back(score.by_habit[index], static_cast<drill::Habit>(index));
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  return all;
}

std::vector<std::string> findings(const drill::Drill& drill, const drill::Score& score) {
  std::vector<std::string> lines;
  const auto add = [&](bool is_so, const std::string& line) {
    if (is_so) lines.push_back(line);
  };
  add(score.told_nothing > 0, fmt::format("{} move{} could tell nothing, whatever the answer",
                                          score.told_nothing, score.told_nothing == 1 ? "" : "s"));
  add(score.told_moves > 0, fmt::format("{} move{} named by a hint", score.told_moves,
                                        score.told_moves == 1 ? " was" : "s were"));
  add(score.unproved, "closed, though the route had not stood its stresses since the last change");
  add(!score.not_put_back.empty(), "not put back: " + listed(score.not_put_back));
  add(score.borrowed_left_in,
      "a part of another route is still in: people would be tested on it before it is calibrated "
      "or checked here");
  add(!score.blamed.empty(),
      "exchanged for good, though not shown to be bad: " + listed(score.blamed));
  add(!score.unchecked.empty(), "the route goes back into use without: " + listed(score.unchecked));
  for (const drill::Claim& claim : drill.claims()) {
    if (claim.supported) continue;
    std::string line = fmt::format("{} was called {} sure, and the answers gave it {}", claim.name,
                                   percent(claim.sure), percent(claim.believed));
    if (claim.rival_chance >= drill::kRival) {
      line += fmt::format("; {} stood at {}", claim.rival, percent(claim.rival_chance));
    }
    lines.push_back(line);
  }
  return lines;
}

std::string claims_block(const drill::Drill& drill, const Style& style) {
  if (drill.claims().empty()) return "";
  std::string out = bold("What you suspected", style) + "\n";
  double brier = 0;
  for (const drill::Claim& claim : drill.claims()) {
    const double miss = claim.sure - (claim.is_true ? 1 : 0);
    brier += miss * miss / static_cast<double>(drill.claims().size());
    out += wrapped(fmt::format("{} {}: {}; by the answers {}", claim.name, percent(claim.sure),
                               claim.is_true ? "it was" : "it was not", percent(claim.believed)),
                   "  - ", style.width);
  }
  return out + fmt::format("  Brier score {:.3f} (0 is best, .25 is a coin)\n", brier);
}

std::string planner_block(const drill::Drill& planner, const Style& style) {
  const drill::Score score = planner.score();
  std::string out = bold("The planner in the same room", style) + "\n";
  std::size_t number = 0;
  for (const drill::Turn& turn : planner.turns()) {
    std::string what = turn.words;
    if (turn.chosen.move) what += ": " + report_text(turn.report);
    out += cut(fmt::format("  {:>2}  {}", ++number, what), style.width, style) + "\n";
  }
  const std::string end = score.service   ? "service called"
                          : score.left_in ? "the fault is still in"
                                          : "nothing is wrong any more";
  return out + fmt::format("  {} moves, {}; {}\n", score.moves, minutes(score.minutes), end);
}

}  // namespace

std::string drill_summary_page(const drill::Drill& drill, const DrillTitle& title,
                               const drill::Drill* planner, const Style& style) {
  const drill::Score score = drill.score();
  std::string out = "\n" + heading(fmt::format("{}: case {}, seed {}", title.lesson, title.number,
                                               drill.given().seed),
                                   style);
  if (!title.trainee.empty()) out += "Trainee " + title.trainee + "\n";
  out += wrapped(came_to(drill, score), "", style.width);
  const std::vector<std::string> hidden = drill.hidden_words();
  out += wrapped("Hidden was: " + (hidden.empty() ? "nothing" : listed(hidden)) + ".", "",
                 style.width);
  out += "\n" + turn_lines(drill, style) + "\n";
  out += wrapped(
      fmt::format(
          "{} move{}, {}. At the start the best plan had {} to go, all priced. Your choices "
          "lost {} more: {:.0f} points of 100.",
          score.moves, score.moves == 1 ? "" : "s", minutes(score.minutes), minutes(score.ideal),
          minutes(score.lost), 100 * score.share_kept()),
      "", style.width);
  const auto lost = losses(score);
  if (!lost.empty()) {
    out += bold("Where the minutes went", style) + "\n";
    for (const auto& [value, habit] : lost) {
      out += wrapped(fmt::format("{} ({})", drill::words_of(habit), drill::name_of(habit)),
                     "  " + padded(minutes(value), 9), style.width);
    }
  }
  const std::vector<std::string> found = findings(drill, score);
  if (!found.empty()) {
    out += bold("Besides", style) + "\n";
    for (const std::string& line : found) out += wrapped(line, "  - ", style.width);
  }
  out += claims_block(drill, style);
  if (planner != nullptr) out += planner_block(*planner, style);
  return out + wrapped(
                   "Points are reckoned from what was known before each answer: luck is not in "
                   "them.",
                   "", style.width);
}

namespace {

Json turns_json(const drill::Drill& drill) {
  Json turns = Json::array();
  for (const drill::Turn& turn : drill.turns()) {
    Json one = {{"did", turn.chosen.move ? turn.chosen.move->name : turn.words},
                {"heard", turn.chosen.move ? Json(turn.report.heard) : Json(nullptr)},
                {"minutes", turn.minutes},
                {"value", turn.value},
                {"least", turn.least},
                {"lost", turn.lost},
                {"charged_to", turn.habit ? Json(drill::name_of(*turn.habit)) : Json(nullptr)},
                {"planner", turn.advised_words},
                {"as_planned", turn.advised},
                {"told_nothing", turn.told_nothing},
                {"hints", static_cast<int>(turn.hint)},
                {"wrong_before", turn.wrong_before},
                {"wrong_after", turn.wrong_after}};
    Json shifts = Json::array();
    for (const drill::Shift& shift : turn.shifts) {
      shifts.push_back({{"at", shift.group}, {"before", shift.before}, {"after", shift.after}});
    }
    one["suspicion"] = shifts;
    turns.push_back(one);
  }
  return turns;
}

Json score_json(const drill::Score& score) {
  Json habits = Json::object();
  for (std::size_t index = 0; index < score.by_habit.size(); ++index) {
    if (score.by_habit[index] > 0) {
      habits[drill::habit_names()[index]] = score.by_habit[index];
    }
  }
  return {{"points", 100 * score.share_kept()},
          {"ideal_minutes", score.ideal},
          {"lost_minutes", score.lost},
          {"lost_by_habit", habits},
          {"minutes", score.minutes},
          {"moves", score.moves},
          {"told_nothing", score.told_nothing},
          {"named_by_hint", score.told_moves},
          {"unsupported_claims", score.unsupported},
          {"not_put_back", score.not_put_back},
          {"blamed", score.blamed},
          {"unchecked", score.unchecked},
          {"borrowed_left_in", score.borrowed_left_in},
          {"unproved", score.unproved},
          {"service", score.service},
          {"left_in", score.left_in}};
}

}  // namespace

Json drill_json(const drill::Drill& drill, const DrillTitle& title, const drill::Drill* planner) {
  Json claims = Json::array();
  for (const drill::Claim& claim : drill.claims()) {
    claims.push_back({{"suspect", claim.name},
                      {"sure", claim.sure},
                      {"after_moves", claim.step},
                      {"believed", claim.believed},
                      {"true", claim.is_true},
                      {"supported", claim.supported}});
  }
  Json json = {{"lesson", title.lesson},
               {"case", title.number},
               {"name", drill.given().name},
               {"seed", drill.given().seed},
               {"trainee", title.trainee.empty() ? Json(nullptr) : Json(title.trainee)},
               {"installation", drill.isolation().setting().installation().name},
               {"route", drill.given().route},
               {"heard", drill.given().heard},
               {"ended", drill.stage() != drill::Stage::under_way},
               {"hidden", drill.hidden_words()},
               {"turns", turns_json(drill)},
               {"claims", claims},
               {"score", score_json(drill.score())}};
  if (planner != nullptr) {
    json["planner"] = {{"turns", turns_json(*planner)}, {"score", score_json(planner->score())}};
  }
  return json;
}

}  // namespace whichlink::render
