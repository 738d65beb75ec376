// Charts: what they say against the guide, their numbers against the exact belief and against cases
// that are played.

#include "chart/chart.h"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <set>

#include "guide/support.h"
#include "moves/arrangement.h"
#include "moves/words.h"
#include "trial/draw.h"
#include "trial/trial.h"

namespace whichlink::chart {
namespace {

constexpr plan::Depth kNoSearch{0, 0, 0};

RouteId route_of(const moves::Setting& setting, const std::string& name) {
  for (const RouteId route : setting.chain().routes.ids()) {
    if (setting.chain().routes[route].name == name) return route;
  }
  ADD_FAILURE() << "no route " << name;
  return {};
}

const faults::Sense& sense_of(const moves::Setting& setting, RouteId route) {
  const SignalId signal = setting.chain().routes[route].signal;
  return setting.rules().senses[setting.rules().signals[signal].sense];
}

std::string said(guide::Stage stage, const std::optional<moves::Move>& move) {
  return move ? move->name : guide::name_of(stage);
}

/// One complaint of a shipped installation, with its tree and its chart.
struct Grown {
  Grown(const std::string& model, const std::string& route, const std::string& heard,
        const Growth& growth)
      : installation(testing::shipped(model)),
        setting(installation, 7),
        complaint{route_of(setting, route), 0, {}, 1} {
    complaint.outcomes = {*sense_of(setting, complaint.route).find(heard)};
    tree = grow(setting, complaint, growth);
    chart = chart_of(setting, tree, {tree.opened.begin(), tree.opened.end()});
  }

  const moves::Installation installation;
  const moves::Setting setting;
  Complaint complaint;
  Tree tree;
  Chart chart;
};

struct What {
  std::string model, route, heard;
};
const std::vector<What> kWhats = {{"single-room", "left phone", "silent"},
                                  {"single-room", "left phone", "crackle"},
                                  {"single-room", "button", "dead"},
                                  {"small-stage", "left vocal", "nothing"},
                                  {"small-stage", "left vocal", "cuts"}};

class Charts : public ::testing::TestWithParam<What> {
 protected:
  static Grown grown(std::size_t most_opened = 16, double doubt = .02) {
    return {GetParam().model, GetParam().route, GetParam().heard, {most_opened, doubt, kNoSearch}};
  }
};
INSTANTIATE_TEST_SUITE_P(Shipped, Charts, ::testing::ValuesIn(kWhats), [](const auto& one) {
  std::string name;
  for (const char letter : one.param.model + one.param.route + one.param.heard) {
    if (std::isalnum(static_cast<unsigned char>(letter)) != 0) name += letter;
  }
  return name;
});

TEST_P(Charts, AnswersAndEndsHaveAllTheChanceThereIs) {
  const Grown one = grown();
  for (const std::size_t index : one.tree.opened) {
    double sum = 0;
    std::set<std::size_t> outcomes;
    for (const Answer& answer : one.tree.nodes[index].answers) {
      sum += answer.chance;
      outcomes.insert(answer.outcomes.begin(), answer.outcomes.end());
      EXPECT_NEAR(one.tree.nodes[answer.node].chance, one.tree.nodes[index].chance * answer.chance,
                  1e-12);
    }
    EXPECT_NEAR(sum, 1, 1e-9);
    const faults::Sense& sense = one.setting.rules().senses[one.tree.nodes[index].move->sense];
    EXPECT_EQ(outcomes.size(), sense.severities() + (sense.elsewhere ? 1 : 0));
  }
  const Numbers& numbers = one.chart.numbers;
  EXPECT_NEAR(numbers.mended + numbers.nothing_found + numbers.service + numbers.program, 1, 1e-9);
  EXPECT_GT(numbers.minutes, 0);
}

// The other way to a chance: how likely all answers so far are together, by the exact belief.
TEST_P(Charts, ChancesAreThoseOfTheExactBelief) {
  const Grown one = grown(10);
  const auto log_evidence = [](const Node& node) {
    return node.course->belief().picture(node.course->standing()).log_evidence;
  };
  const double start = log_evidence(one.tree.nodes.front());
  std::size_t compared = 0;
  for (const Node& node : one.tree.nodes) {
    if (!node.course || node.course->steps().size() > 6) continue;
    EXPECT_NEAR(node.chance, std::exp(log_evidence(node) - start), 2e-3);
    ++compared;
  }
  EXPECT_GT(compared, 10U);
}

TEST_P(Charts, EveryMoveIsTheGuidesUnlessItClosesSooner) {
  const Grown one = grown();
  // The cases that lead to a node by answers that were told apart.
  std::map<std::size_t, std::vector<testing::Told>> told{{0, {}}};
  std::size_t compared = 0;
  for (std::size_t index = 0; index < one.tree.nodes.size(); ++index) {
    const auto way = told.find(index);
    if (way == told.end()) continue;
    const Node& node = one.tree.nodes[index];
    const auto events =
        testing::open_case(one.installation, GetParam().route, {GetParam().heard, {}}, way->second);
    ASSERT_TRUE(events);
    EXPECT_NEAR(events->minutes_spent(), node.minutes, 1e-9);
    const guide::Advice advice = events->advise(kNoSearch);
    if (node.reason != kCloseSoon) {
      EXPECT_EQ(said(node.stage, node.move), said(advice.stage, advice.move));
      ++compared;
    }
    for (const Answer& answer : node.answers) {
      if (answer.outcomes.size() != 1 || !one.tree.nodes[answer.node].course) continue;
      std::vector<testing::Told> next = way->second;
      const faults::Sense& sense = one.setting.rules().senses[node.move->sense];
      next.push_back({node.move->name, sense.outcome_name(answer.outcomes.front())});
      told.emplace(answer.node, std::move(next));
    }
  }
  EXPECT_GT(compared, 3U);
}

TEST_P(Charts, AnswersAreOneOnlyWhereEachOfThemLeadsToTheSameMove) {
  const Grown one = grown();
  std::size_t groups = 0;
  for (const std::size_t index : one.tree.opened) {
    const Node& node = one.tree.nodes[index];
    for (const Answer& answer : node.answers) {
      const Node& next = one.tree.nodes[answer.node];
      if (!next.course || answer.outcomes.size() < 2) continue;
      ++groups;
      const faults::Sense& sense = one.setting.rules().senses[node.move->sense];
      for (const std::size_t outcome : answer.outcomes) {
        EXPECT_NE(outcome, 0U) << "nothing wrong stands alone";
        guide::Course course = *node.course;
        course.take(*node.move, {sense.outcome_name(outcome), std::nullopt},
                    moves::weights_of_outcome(sense, outcome));
        const guide::Advice advice = course.advise(plan::Aim::time, kNoSearch);
        if (next.reason == kCloseSoon) continue;
        EXPECT_EQ(said(next.stage, next.move), said(advice.stage, advice.move));
      }
    }
  }
  EXPECT_TRUE(groups > 0 || GetParam().heard == "crackle");
}

TEST_P(Charts, CloseOnlyWithLittleDoubtAndNothingWrongToHear) {
  for (const double doubt : {0.0, .02}) {
    const Grown one = grown(16, doubt);
    std::size_t sooner = 0;
    for (const Node& node : one.tree.nodes) {
      if (node.reason != kCloseSoon) continue;
      ++sooner;
      EXPECT_FALSE(node.course->track().heard_wrong());
      EXPECT_FALSE(node.course->standing().temporary);
      if (node.stage == guide::Stage::under_way) continue;
      EXPECT_TRUE(node.course->track().verified());
      EXPECT_LE(node.course->belief().something_wrong(node.course->standing()), doubt);
    }
    EXPECT_TRUE(sooner == 0 || doubt > 0);
  }
}

TEST_P(Charts, GrowTheSameTwice) {
  const Grown one = grown();
  const Grown two = grown();
  ASSERT_EQ(one.chart.steps.size(), two.chart.steps.size());
  EXPECT_EQ(one.chart.numbers.minutes, two.chart.numbers.minutes);
  for (std::size_t index = 0; index < one.chart.steps.size(); ++index) {
    EXPECT_EQ(one.chart.steps[index].move.name, two.chart.steps[index].move.name);
    EXPECT_EQ(one.chart.steps[index].chance, two.chart.steps[index].chance);
  }
}

TEST_P(Charts, OpenNoMoreThanIsAskedForAndTheBestFirst) {
  for (const std::size_t most : {0U, 1U, 7U}) {
    const Grown one = grown(most);
    EXPECT_LE(one.tree.opened.size(), most);
    EXPECT_LE(one.chart.steps.size(), most);
  }
  // A smaller chart is the beginning of a larger one.
  const Grown small = grown(5);
  const Grown large = grown(12);
  for (std::size_t index = 0; index < small.tree.opened.size(); ++index) {
    EXPECT_EQ(small.tree.nodes[small.tree.opened[index]].chance,
              large.tree.nodes[large.tree.opened[index]].chance);
  }
}

TEST_P(Charts, EveryAnswerLeadsOnwardOrEnds) {
  const Grown one = grown();
  for (std::size_t index = 0; index < one.chart.steps.size(); ++index) {
    const Step& step = one.chart.steps[index];
    double sum = 0;
    for (const Row& row : step.rows) {
      EXPECT_NE(row.next.has_value(), row.end.has_value());
      EXPECT_GT(row.next.value_or(one.chart.steps.size()), index);
      sum += row.chance;
    }
    EXPECT_NEAR(sum, 1, 1e-9);
  }
  std::size_t in_runs = 0;
  for (const auto& run : runs_of(one.chart)) {
    for (const std::size_t index : run) EXPECT_EQ(index, in_runs++);
  }
  EXPECT_EQ(in_runs, one.chart.steps.size());
}

// The minutes once more, from the ends backwards: joining ways changes nothing. What leads nowhere
// is left out here as well, by its own rule.
TEST_P(Charts, MinutesAreTheSameFromTheEndsBackwards) {
  const Grown one = grown();
  const std::set<std::size_t> opened(one.tree.opened.begin(), one.tree.opened.end());
  const std::size_t count = one.tree.nodes.size();
  std::vector<double> to_go(count, 0);
  std::vector<double> leaves(count, 0);  // the share that leaves the chart
  for (std::size_t index = count; index-- > 0;) {
    const Node& node = one.tree.nodes[index];
    double leaving = 0;
    double minutes = 0;
    for (const Answer& answer : node.answers) {
      leaving += answer.chance * leaves[answer.node];
      minutes += answer.chance * to_go[answer.node];
    }
    if (opened.count(index) != 0 && leaving < 1 - 1e-12) {
      to_go[index] = node.move->minutes + minutes;
      leaves[index] = leaving;
      continue;
    }
    if (node.course) to_go[index] = moves::put_back_minutes(one.setting, node.course->standing());
    leaves[index] = end_at(node) == EndKind::program ? 1 : 0;
  }
  EXPECT_NEAR(one.chart.numbers.minutes, to_go.front(), 1e-9);
  EXPECT_NEAR(one.chart.numbers.program, leaves.front(), 1e-9);
}

TEST_P(Charts, CallServiceSoonOnlyWhereItCostsLittleAndTheTroubleIsHeard) {
  const Grown one = grown();
  double soon = 0;
  const std::set<std::size_t> opened(one.tree.opened.begin(), one.tree.opened.end());
  for (std::size_t index = 0; index < one.tree.nodes.size(); ++index) {
    const Node& node = one.tree.nodes[index];
    if (node.stage != guide::Stage::under_way || end_at(node) != EndKind::service) continue;
    EXPECT_LT(node.saves, 5);
    EXPECT_TRUE(node.course->track().heard_wrong());
    if (opened.count(index) == 0) soon += node.chance;
  }
  EXPECT_LE(one.chart.numbers.service_soon, one.chart.numbers.service + 1e-12);
  EXPECT_LE(one.chart.numbers.service_soon, soon + 1e-12);
}

struct Went {
  EndKind kind = EndKind::program;
  double minutes = 0;
  bool is_left_wrong = false;
};

// Follows a chart as its reader does, from the steps alone.
Went follow(const Grown& one, const trial::Drawn& drawn) {
  simulate::Room room = drawn.room;
  moves::Standing standing = moves::stand_at_start(one.setting, one.complaint.route);
  Went went;
  std::size_t at = 0;
  while (true) {
    const auto move = moves::find_move(one.setting, standing, one.chart.steps[at].move.name);
    if (!move) {
      ADD_FAILURE() << "step " << at + 1 << " cannot be made";
      return went;
    }
    EXPECT_EQ(moves::handling(one.setting, standing, *move), one.chart.steps[at].words);
    const std::size_t heard = room.respond(standing, *move);
    went.minutes += move->minutes;
    standing = moves::after(one.setting, standing, *move);
    const Row* taken = nullptr;
    for (const Row& row : one.chart.steps[at].rows) {
      for (const std::size_t outcome : row.outcomes) {
        if (outcome == heard) taken = &row;
      }
    }
    if (taken == nullptr) {
      ADD_FAILURE() << "no row for an answer";
      return went;
    }
    if (taken->next) {
      at = *taken->next;
      continue;
    }
    went.kind = taken->end->kind;
    // A remnant's way of plugging is not on the chart: its putting back is not counted there.
    if (!taken->is_remnant) went.minutes += moves::put_back_minutes(one.setting, standing);
    went.is_left_wrong = !room.sound(standing);
    return went;
  }
}

// The other way to a chart's numbers: cases that are drawn, and a reader who follows it.
TEST_P(Charts, NumbersAreWhatPlayedCasesComeTo) {
  constexpr std::size_t kCases = 1500;
  const Grown one = grown();
  const trial::CaseDrawer drawer(one.setting,
                                 {one.complaint.route, one.complaint.outcomes.front(), 0});
  std::vector<double> minutes;
  std::map<EndKind, std::size_t> counts;
  std::size_t left_in = 0;
  for (std::size_t number = 0; number < kCases; ++number) {
    const auto drawn = drawer.draw(number);
    ASSERT_TRUE(drawn);
    const Went went = follow(one, *drawn);
    minutes.push_back(went.minutes);
    ++counts[went.kind];
    if (went.is_left_wrong &&
        (went.kind == EndKind::mended || went.kind == EndKind::nothing_found)) {
      ++left_in;
    }
  }
  const Numbers& numbers = one.chart.numbers;
  // Twice the interval of 95 %, since some thirty numbers are compared; the working belief leaves
  // out sets of three faults and more, hence the last term.
  const auto agrees = [](double exact, const trial::Estimate& played, double slack) {
    EXPECT_GE(exact, played.value - 2 * (played.value - played.low) - slack);
    EXPECT_LE(exact, played.value + 2 * (played.high - played.value) + slack);
  };
  agrees(numbers.minutes, trial::mean_of(minutes), .02);
  agrees(numbers.mended, trial::share_of(counts[EndKind::mended], kCases), 1e-3);
  agrees(numbers.nothing_found, trial::share_of(counts[EndKind::nothing_found], kCases), 1e-3);
  agrees(numbers.service, trial::share_of(counts[EndKind::service], kCases), 1e-3);
  agrees(numbers.program, trial::share_of(counts[EndKind::program], kCases), 1e-3);
  agrees(numbers.left_in, trial::share_of(left_in, kCases), 1e-3);
}

TEST(ChartFitted, FitsAndEndsMoreWhereThereIsMoreRoom) {
  const moves::Installation room = testing::shipped("single-room");
  const moves::Setting setting(room, 7);
  const Complaint complaint{route_of(setting, "left phone"),
                            0,
                            {*sense_of(setting, route_of(setting, "left phone")).find("silent")},
                            1};
  const std::vector<Growth> growths = {{16, .02, kNoSearch}, {16, .05, kNoSearch}};
  const auto at_most = [](std::size_t steps) {
    return [steps](const Chart& chart) { return chart.steps.size() <= steps; };
  };
  const Chart small = fitted(setting, complaint, {growths, .5, 6, at_most(4)});
  const Chart large = fitted(setting, complaint, {growths, .5, 6, at_most(12)});
  EXPECT_LE(small.steps.size(), 4U);
  EXPECT_GT(small.steps.size(), 2U);
  EXPECT_GT(large.steps.size(), 8U);
  EXPECT_LE(large.numbers.program, small.numbers.program);
  EXPECT_GT(small.numbers.mended, .3);
  // No room at all: the case goes on with the program, or to service.
  const Chart none = fitted(setting, complaint, {growths, .5, 6, at_most(0)});
  EXPECT_TRUE(none.steps.empty());
  ASSERT_TRUE(none.at_once);
  EXPECT_NEAR(none.numbers.program + none.numbers.service, 1, 1e-12);
}

TEST(ChartFitted, AreTheSameOnAllCoresAndInTheirOrder) {
  const moves::Installation room = testing::shipped("single-room");
  const moves::Setting setting(room, 7);
  const RouteId route = route_of(setting, "button");
  const std::vector<Complaint> complaints = complaints_of(setting, route, 0, .02, kNoSearch);
  ASSERT_GT(complaints.size(), 2U);
  const Fitting fitting{
      {{10, .02, kNoSearch}}, .5, 6, [](const Chart& chart) { return chart.steps.size() <= 6; }};
  double told = 0;
  const std::vector<Chart> all =
      all_fitted(setting, complaints, fitting, [&](double share) { told = share; });
  ASSERT_EQ(all.size(), complaints.size());
  EXPECT_EQ(told, 1);
  for (std::size_t index = 0; index < all.size(); ++index) {
    const Chart alone = fitted(setting, complaints[index], fitting);
    EXPECT_EQ(all[index].complaint.outcomes, complaints[index].outcomes);
    EXPECT_EQ(all[index].numbers.minutes, alone.numbers.minutes);
    EXPECT_EQ(all[index].numbers.program, alone.numbers.program);
  }
}

TEST(ChartComplaints, AreThoseThatComeAndLevelsWithOneBeginningAreOne) {
  const moves::Installation room = testing::shipped("single-room");
  const moves::Setting setting(room, 7);
  const RouteId route = route_of(setting, "left phone");
  const faults::Sense& sense = sense_of(setting, route);
  const auto begins = [&](const std::vector<std::size_t>& outcomes) {
    moves::ReportWeights weights(sense.severities() + 1, 0.0);
    for (const std::size_t outcome : outcomes) weights[outcome] = 1;
    const guide::Advice advice =
        guide::Course(setting, route, 0, weights).advise(plan::Aim::time, kNoSearch);
    return said(advice.stage, advice.move);
  };
  const std::vector<Complaint> all = complaints_of(setting, route, 0, 0, kNoSearch);
  double sum = 0;
  std::size_t outcomes = 0;
  bool any_joined = false;
  for (const Complaint& one : all) {
    sum += one.share;
    outcomes += one.outcomes.size();
    for (const std::size_t outcome : one.outcomes) {
      EXPECT_EQ(begins({outcome}), begins(one.outcomes));
    }
    any_joined = any_joined || one.outcomes.size() > 1;
  }
  EXPECT_NEAR(sum, 1, 1e-9);
  EXPECT_EQ(outcomes, sense.severities());  // all but the first, and "elsewhere"
  EXPECT_TRUE(any_joined);
  for (std::size_t index = 1; index < all.size(); ++index) {
    EXPECT_LE(all[index].share, all[index - 1].share);
  }
  EXPECT_LT(complaints_of(setting, route, 0, .03, kNoSearch).size(), all.size());
}

// Played: of cases with any complaint, how many are of each kind.
TEST(ChartComplaints, SharesAreWhatPlayedCasesComplainOf) {
  const moves::Installation room = testing::shipped("single-room");
  const moves::Setting setting(room, 7);
  const RouteId route = route_of(setting, "left phone");
  constexpr std::size_t kCases = 3000;
  const trial::CaseDrawer drawer(setting, {route, std::nullopt, 0});
  std::map<std::size_t, std::size_t> counts;
  for (std::size_t number = 0; number < kCases; ++number) {
    const auto drawn = drawer.draw(number);
    ASSERT_TRUE(drawn);
    ++counts[drawn->heard];
  }
  for (const Complaint& one : complaints_of(setting, route, 0, 0, kNoSearch)) {
    std::size_t hits = 0;
    for (const std::size_t outcome : one.outcomes) hits += counts[outcome];
    const trial::Estimate played = trial::share_of(hits, kCases);
    EXPECT_GE(one.share, played.value - 2 * (played.value - played.low));
    EXPECT_LE(one.share, played.value + 2 * (played.high - played.value));
  }
}

// What a page says of "not sure": listen once more. So does the guide, or it does the same again,
// at most steps that a room's cases come to (docs/sheets.md has the figure for all rooms).
TEST(ChartSteps, NotSureIsMostlyOnceMoreByTheGuideToo) {
  const moves::Installation room = testing::shipped("single-room");
  const moves::Setting setting(room, 7);
  double all = 0;
  double once_more = 0;
  for (const RouteId route : setting.chain().routes.ids()) {
    for (const Complaint& complaint : complaints_of(setting, route, 0, .02, kNoSearch)) {
      const Tree tree = grow(setting, complaint, {12, .03, kNoSearch});
      const Chart chart = chart_of(setting, tree, {tree.opened.begin(), tree.opened.end()});
      for (const Step& step : chart.steps) {
        const guide::Advice advice = after(tree.nodes[step.node], guide::kNotSure, kNoSearch);
        const bool same =
            advice.move && (advice.move->name == step.move.name ||
                            std::holds_alternative<moves::Listen>(advice.move->action));
        all += complaint.share * step.chance;
        once_more += same ? complaint.share * step.chance : 0;
      }
    }
  }
  EXPECT_GT(once_more / all, .75);
  RecordProperty("once_more_of_1000", static_cast<int>(1000 * once_more / all));
}

// Somebody who follows a chart tells it less than the guide would be told: answers are grouped. The
// guide, told each answer, goes the same way at nearly all steps all the same.
TEST(ChartSteps, AreThoseOfAGuideThatIsToldEachAnswer) {
  std::size_t steps = 0;
  std::size_t same = 0;
  for (const What& what : kWhats) {
    const Grown one(what.model, what.route, what.heard, {12, .03, kNoSearch});
    const trial::CaseDrawer drawer(one.setting,
                                   {one.complaint.route, one.complaint.outcomes.front(), 0});
    std::map<std::string, guide::Advice> known;
    for (std::size_t number = 0; number < 200; ++number) {
      const auto drawn = drawer.draw(number);
      ASSERT_TRUE(drawn);
      simulate::Room room = drawn->room;
      guide::Course course = *one.tree.nodes.front().course;
      std::string answers;
      std::optional<std::size_t> at = 0;
      while (at) {
        const Step& step = one.chart.steps[*at];
        const auto [advice, is_new] = known.try_emplace(answers);
        if (is_new) advice->second = course.advise(plan::Aim::time, kNoSearch);
        if (step.reason != kCloseSoon) {
          ++steps;
          same += said(advice->second.stage, advice->second.move) == step.move.name ? 1 : 0;
        }
        const auto move = moves::find_move(one.setting, course.standing(), step.move.name);
        ASSERT_TRUE(move);
        const std::size_t heard = room.respond(course.standing(), *move);
        const faults::Sense& sense = one.setting.rules().senses[move->sense];
        answers += step.move.name + ":" + std::to_string(heard) + ";";
        course.take(*move, {sense.outcome_name(heard), std::nullopt},
                    moves::weights_of_outcome(sense, heard));
        at.reset();
        for (const Row& row : step.rows) {
          for (const std::size_t outcome : row.outcomes) {
            if (outcome == heard) at = row.next;
          }
        }
      }
    }
  }
  EXPECT_GT(steps, 1000U);
  EXPECT_GT(static_cast<double>(same), .97 * static_cast<double>(steps));
  RecordProperty("same_of_1000", static_cast<int>(1000 * same / steps));
}

}  // namespace
}  // namespace whichlink::chart
