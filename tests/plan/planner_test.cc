#include "plan/planner.h"

#include <cmath>
#include <map>
#include <set>

#include "moves/support.h"

namespace whichlink::plan {
namespace {

using moves::Shop;

/// A shipped installation with every rate at nothing but those named.
struct Quiet : Shop {
  explicit Quiet(const std::string& name, const std::vector<std::string>& modes,
                 double unlisted_per_year = 0)
      : Shop(edited(load_it(name), modes, unlisted_per_year), 30) {}
  static moves::Installation edited(moves::Installation one, const std::vector<std::string>& modes,
                                    double unlisted_per_year) {
    for (faults::Mode& mode : one.rules.modes) {
      const bool named = std::find(modes.begin(), modes.end(), mode.name) != modes.end();
      if (!named) mode.rate = {0, 0, 0, ""};
      if (named && mode.name == "control moved") {
        for (auto& [remedy, chance] : mode.remedies) chance = 1;
      }
    }
    one.rules.unlisted.rate.mid_per_year = unlisted_per_year;
    if (one.rules.crossing) one.rules.crossing->rate.mid_per_year = 0;
    return one;
  }
  const faults::Sense& sense(RouteId route) const {
    return setting.rules()
        .senses[setting.rules().signals[setting.chain().routes[route].signal].sense];
  }
  moves::ReportWeights heard(RouteId route, const std::string& symptom) const {
    return moves::weights_of_outcome(sense(route), *sense(route).find(symptom));
  }
  CaseBelief belief(RouteId route, const std::string& symptom) const {
    return {setting, route, 0, heard(route, symptom)};
  }
  Plan plan(const std::string& name, const std::string& symptom,
            const std::vector<std::string>& cannot = {}) const {
    const RouteId id = route(name);
    return plan_next(setting, belief(id, symptom), moves::stand_at_start(setting, id), cannot,
                     symptom != sense(id).symptoms.front().name);
  }
};

TEST(Planner, ARepairThatSurelyCuresTheOnlySuspectComesFirst) {
  const Quiet room("two-room-booth", {"control moved"});
  const Plan plan = room.plan("left speaker", "weak 10");
  EXPECT_EQ(plan.verdict, Verdict::move);
  ASSERT_FALSE(plan.candidates.empty());
  EXPECT_EQ(plan.candidates.front().move.name, "set left amplifier");
}

TEST(Planner, ClosesWhenNothingIsWrong) {
  const Quiet room("two-room-booth", {});
  const Plan plan = room.plan("left phone", "steady");
  EXPECT_EQ(plan.verdict, Verdict::close);
  EXPECT_NEAR(plan.something_wrong, 0, 1e-12);
}

TEST(Planner, CallsServiceWhenNothingThatStaffCanDoHelps) {
  const Quiet room("two-room-booth", {"bad output"});
  const Plan plan = room.plan("left phone", "silent");
  EXPECT_EQ(plan.verdict, Verdict::service);
  EXPECT_NEAR(plan.something_wrong, 1, 1e-9);
}

TEST(Planner, LeavesOutWhatCannotBeDone) {
  const Quiet room("two-room-booth", {"control moved"});
  const Plan plan = room.plan("left speaker", "weak 10", {"set left amplifier", "listen"});
  ASSERT_FALSE(plan.candidates.empty());
  for (const Candidate& one : plan.candidates) {
    EXPECT_NE(one.move.name, "set left amplifier");
    EXPECT_NE(one.move.name, "listen");
  }
}

TEST(Planner, GivesTheSamePlanTwice) {
  const Shop shop("single-room");
  const moves::Standing start = shop.start("left phone");
  const faults::Sense& ear = shop.setting.rules().senses[SenseId{0}];
  const auto plan = [&] {
    const CaseBelief belief(shop.setting, start.route, 0,
                            moves::weights_of_outcome(ear, *ear.find("crackle")));
    return plan_next(shop.setting, belief, start, {}, true);
  };
  const Plan first = plan();
  const Plan second = plan();
  ASSERT_EQ(first.candidates.size(), second.candidates.size());
  for (std::size_t index = 0; index < first.candidates.size(); ++index) {
    EXPECT_EQ(first.candidates[index].move.name, second.candidates[index].move.name);
    EXPECT_EQ(first.candidates[index].expected_minutes, second.candidates[index].expected_minutes);
  }
}

TEST(Planner, NeverProposesAnIdleMoveAndRanksTheRestByMinutes) {
  for (const std::string& name : moves::kShipped) {
    const Shop shop(name);
    for (const RouteId route : shop.chain().routes.ids()) {
      const moves::Standing start = moves::stand_at_start(shop.setting, route);
      const auto& signal = shop.setting.rules().signals[shop.chain().routes[route].signal];
      const faults::Sense& sense = shop.setting.rules().senses[signal.sense];
      const CaseBelief belief(shop.setting, route, 0, moves::weights_of_outcome(sense, 0));
      const Plan searched = plan_next(shop.setting, belief, start, {}, false);
      ASSERT_FALSE(searched.candidates.empty());
      if (searched.verdict == Verdict::move) {
        EXPECT_FALSE(searched.candidates.front().idle);
      }
      const Plan plan = plan_next(shop.setting, belief, start, {}, false, Aim::time, {0, 0, 0});
      for (std::size_t index = 1; index < plan.candidates.size(); ++index) {
        const Candidate& before = plan.candidates[index - 1];
        const Candidate& one = plan.candidates[index];
        EXPECT_LE(before.idle, one.idle);
        if (before.idle == one.idle) {
          EXPECT_LE(before.expected_minutes, one.expected_minutes);
        }
      }
    }
  }
}

Plan plan_of(const moves::Installation& installation, Aim aim) {
  const moves::Setting setting(installation, 7);
  RouteId route{};
  for (const RouteId id : setting.chain().routes.ids()) {
    if (setting.chain().routes[id].name == "left phone") route = id;
  }
  const faults::Sense& ear = setting.rules().senses[SenseId{0}];
  const CaseBelief belief(setting, route, 0, moves::weights_of_outcome(ear, *ear.find("silent")));
  return plan_next(setting, belief, moves::stand_at_start(setting, route), {}, true, aim);
}

TEST(Aims, SplitPutsTheBestSplitAMinuteFirst) {
  const moves::Installation room = Shop::load_it("single-room");
  const moves::Setting setting(room, 7);
  const Plan plan = plan_of(room, Aim::split);
  ASSERT_EQ(plan.verdict, Verdict::move);
  const moves::Standing start = moves::stand_at_start(setting, plan.candidates[0].move.heard_on);
  const faults::Sense& ear = setting.rules().senses[SenseId{0}];
  const CaseBelief belief(setting, start.route, 0,
                          moves::weights_of_outcome(ear, *ear.find("silent")));
  const CaseBelief heavy = belief.thinned(kTooLightToSplit);
  ASSERT_LT(heavy.hypotheses().front().belief.sets(), belief.hypotheses().front().belief.sets());
  const auto a_minute = [&](const Candidate& one) {
    return heavy.bits(start, one.move) / one.move.minutes;
  };
  const double best = a_minute(plan.candidates.front());
  EXPECT_GT(best, 0);
  for (const Candidate& one : plan.candidates) {
    if (one.idle) continue;
    EXPECT_LE(a_minute(one), best) << one.move.name;
  }
}

TEST(Aims, WhatIsSaidToBeWrongIsOfAllSetsForSplitsToo) {
  const Shop shop("single-room");
  const moves::Standing start = shop.start("left phone");
  const CaseBelief belief(shop.setting, start.route, 0,
                          moves::weights_of_outcome(shop.setting.rules().senses[SenseId{0}], 0));
  const Plan plan = plan_next(shop.setting, belief, start, {}, false, Aim::split);
  EXPECT_EQ(plan.something_wrong, belief.something_wrong(start));
  EXPECT_LT(belief.thinned(kTooLightToSplit).something_wrong(start), plan.something_wrong);
}

TEST(Aims, FewestMovesDoesNotCareHowFarSomethingIs) {
  const moves::Installation near = Shop::load_it("two-room-booth");
  moves::Installation far = near;
  for (auto& row : far.chain.walking_minutes) {
    for (double& minutes : row) minutes *= 7;
  }
  // Repairs leave nothing to put back, so the walk could only be in their own minutes.
  const auto repairs = [](const Plan& plan) {
    std::map<std::string, double> minutes;
    for (const Candidate& one : plan.candidates) {
      if (std::holds_alternative<moves::Treat>(one.move.action)) {
        minutes[one.move.name] = one.expected_minutes;
      }
    }
    return minutes;
  };
  const auto here = repairs(plan_of(near, Aim::moves));
  ASSERT_FALSE(here.empty());
  EXPECT_EQ(here, repairs(plan_of(far, Aim::moves)));
  EXPECT_NE(repairs(plan_of(near, Aim::time)), repairs(plan_of(far, Aim::time)));
}

TEST(Aims, AreFoundByTheirNames) {
  for (const Aim aim : {Aim::time, Aim::split, Aim::moves}) EXPECT_EQ(aim_of(name_of(aim)), aim);
  EXPECT_EQ(aim_of("speed"), std::nullopt);
}

TEST(CaseBelief, ForecastsChancesThatAddUpToOneForEveryMove) {
  const Shop booth("two-room-booth");
  for (const std::string name : {"left phone", "button"}) {
    const moves::Standing start = booth.start(name);
    const auto& signal = booth.setting.rules().signals[booth.chain().routes[start.route].signal];
    const faults::Sense& sense = booth.setting.rules().senses[signal.sense];
    const CaseBelief belief(booth.setting, start.route, 0,
                            moves::weights_of_outcome(sense, sense.severities() - 1));
    for (const moves::Move& move : moves::derive_moves(booth.setting, start)) {
      double total = 0;
      for (const PredictedOutcome& outcome : belief.predict(start, move)) {
        EXPECT_GE(outcome.chance, 0);
        total += outcome.chance;
      }
      EXPECT_NEAR(total, 1, 1e-9) << move.name;
    }
  }
}

// A report tells of the faults only through the worst that can be heard. And the first of a plan
// made with known ways, where most bits are not asked for, is that of the whole plan.
TEST(KnownWays, TheMostBitsAreNoFewerThanTheBitsAndTheFirstMoveIsThatOfThePlan) {
  const Shop booth("two-room-booth");
  const moves::Standing start = booth.start("left phone");
  const faults::Sense& ear = booth.setting.rules().senses[SenseId{0}];
  KnownWays known = ways_for(booth.setting, 0, Aim::split);
  std::size_t bounded = 0;
  for (std::size_t heard = 1; heard < ear.severities(); ++heard) {
    const CaseBelief belief(booth.setting, start.route, 0, moves::weights_of_outcome(ear, heard));
    Ways& here = known.at(start);
    for (std::size_t move = 0; move < here.ways.size(); ++move) {
      AskedOfAll asked;
      for (const Hypothesis& one : belief.hypotheses()) {
        asked.push_back(&known.asked(here, one.real)[move]);
      }
      Reports reports;
      const Way& way = here.ways[move];
      Prediction prediction;
      belief.predict(asked, way.matters, way.wanted, prediction, reports, known.buffers());
      const double bits = belief.bits(start, way.move);
      const double most = belief.most_bits(asked, prediction, reports);
      EXPECT_DOUBLE_EQ(belief.bits(asked, reports, known.buffers()), bits) << way.move.name;
      EXPECT_LE(bits, most) << way.move.name;
      bounded += std::isfinite(most) ? 1 : 0;
    }
    for (const bool wrong : {true, false}) {
      const Plan whole = plan_next(booth.setting, belief, start, {}, wrong, Aim::split);
      const Plan first = plan_first(booth.setting, belief, start, {}, wrong, Aim::split, {}, known);
      ASSERT_EQ(first.verdict, whole.verdict);
      if (whole.verdict != Verdict::move) continue;
      EXPECT_EQ(first.candidates.front().move.name, whole.candidates.front().move.name);
      EXPECT_EQ(first.candidates.front().expected_minutes,
                whole.candidates.front().expected_minutes);
    }
  }
  EXPECT_GT(bounded, 100U);
}

// Of each way on, asked twice, and of a move that is none of them.
TEST(KnownWays, QuestionsAreThoseOfTheMoves) {
  const Shop booth("two-room-booth");
  const moves::Standing start = booth.start("left phone");
  KnownWays known = ways_for(booth.setting, 0, Aim::split);
  const auto agree = [&](const moves::Move& move) {
    const chain::Patching& real = booth.chain().home;
    const belief::Question asked = known.question(start, move, real);
    const belief::Question own = moves::question_of(booth.setting, start, move, real, 0);
    EXPECT_EQ(asked.path, own.path) << move.name;
    EXPECT_EQ(asked.sense, own.sense) << move.name;
    EXPECT_EQ(asked.report, own.report) << move.name;
    EXPECT_EQ(asked.transitions.size(), own.transitions.size()) << move.name;
  };
  moves::Move none = booth.move(start, "listen");
  none.name = "attend";
  for (int time = 0; time < 2; ++time) {
    for (const moves::Move& move : moves::derive_moves(booth.setting, start)) agree(move);
    agree(none);
  }
}

/// Two faults, all their states written out: P(reports | states at the start).
class WrittenOut {
 public:
  WrittenOut(const moves::Setting& setting, std::uint32_t a, std::uint32_t b)
      : setting_(setting), faults_{a, b} {}

  double present_at_start(const std::vector<belief::Slice>& slices) const {
    double all = 0;
    double with_first = 0;
    for (std::size_t a = 0; a < belief::kStates; ++a) {
      for (std::size_t b = 0; b < belief::kStates; ++b) {
        const auto& prior = setting_.network().prior;
        const double weight =
            prior[faults_[0]][a] * prior[faults_[1]][b] * chance_of_reports(a, b, slices);
        all += weight;
        if (a != belief::kAbsent) with_first += weight;
      }
    }
    return with_first / all;
  }

 private:
  using Joint = std::array<belief::StateVector, belief::kStates>;

  belief::StateMatrix matrix(const belief::Slice& slice, std::uint32_t fault) const {
    for (const belief::Transition& one : slice.transitions) {
      if (one.fault == fault) return one.matrix;
    }
    return belief::kIdentity;
  }
  double heard(const belief::Hearing& hearing, const std::array<std::size_t, 2>& states) const {
    double chance = 0;
    double below = 0;
    for (std::size_t severity = 0; severity < hearing.leak_at_most.size(); ++severity) {
      double at_most = hearing.leak_at_most[severity];
      for (std::size_t which : {0U, 1U}) {
        const bool on_path =
            std::binary_search(hearing.path.begin(), hearing.path.end(), faults_[which]);
        if (on_path && states[which] == belief::kShowing) {
          at_most *= setting_.network().at_most[hearing.sense][faults_[which]][severity];
        }
      }
      chance += (at_most - below) * hearing.chance_of_report[severity];
      below = at_most;
    }
    return chance;
  }
  double chance_of_reports(std::size_t first, std::size_t second,
                           const std::vector<belief::Slice>& slices) const {
    Joint joint{};
    joint[first][second] = 1;
    for (const belief::Slice& slice : slices) {
      const auto move_a = matrix(slice, faults_[0]);
      const auto move_b = matrix(slice, faults_[1]);
      Joint next{};
      for (std::size_t cell = 0; cell < 81; ++cell) {
        const std::size_t a = cell / 27, b = cell / 9 % 3, to_a = cell / 3 % 3, to_b = cell % 3;
        next[to_a][to_b] += joint[a][b] * move_a[a][to_a] * move_b[b][to_b];
      }
      for (std::size_t a = 0; a < 3; ++a) {
        for (std::size_t b = 0; b < 3; ++b) next[a][b] *= heard(slice.hearing, {a, b});
      }
      joint = next;
    }
    double sum = 0;
    for (const belief::StateVector& row : joint) sum += row[0] + row[1] + row[2];
    return sum;
  }

  const moves::Setting& setting_;
  std::array<std::uint32_t, 2> faults_;
};

TEST(CaseBelief, WhatWasThereAtTheStartAgreesWithEveryStateWrittenOut) {
  const Quiet room("two-room-booth", {"control moved"}, .3);
  const RouteId route = room.route("left speaker");
  const FaultId moved = room.fault("left amplifier: control moved");
  const WrittenOut written(room.setting, moved.value, room.setting.unlisted_of(route).value);
  CaseBelief belief = room.belief(route, "weak 10");
  moves::Standing standing = moves::stand_at_start(room.setting, route);
  std::vector<belief::Slice> slices = {
      moves::answered(moves::complaint_of(room.setting, route, standing.patching, 0),
                      room.heard(route, "weak 10")),
      moves::settling(room.setting, SenseId{0})};
  EXPECT_NEAR(belief.present_at_start({moved}).front(), written.present_at_start(slices), 1e-9);
  for (const auto& [name, symptom] : std::vector<std::pair<std::string, std::string>>{
           {"listen", "steady"}, {"set left amplifier", "weak 10"}}) {
    const auto move = moves::find_move(room.setting, standing, name);
    ASSERT_TRUE(move);
    slices.push_back(
        moves::answered(moves::question_of(room.setting, standing, *move, standing.patching, 0),
                        room.heard(route, symptom)));
    belief.take_in(standing, *move, room.heard(route, symptom));
    standing = moves::after(room.setting, standing, *move);
    EXPECT_NEAR(belief.present_at_start({moved}).front(), written.present_at_start(slices), 1e-9)
        << name;
  }
}

}  // namespace
}  // namespace whichlink::plan
