#include "trial/trial.h"

#include <gtest/gtest.h>

#include <cmath>

#include "guide/support.h"
#include "trial/memory.h"

namespace whichlink::trial {
namespace {

class Trials : public ::testing::Test {
 protected:
  Trials() {
    for (const RouteId route : setting_.chain().routes.ids()) {
      if (setting_.chain().routes[route].name == "left phone") complaint_.route = route;
    }
    complaint_.heard = sense().find("silent");
  }
  const faults::Sense& sense() const {
    const SignalId signal = setting_.chain().routes[complaint_.route].signal;
    return setting_.rules().senses[setting_.rules().signals[signal].sense];
  }
  Options options(std::size_t cases, const std::vector<std::string>& policies) const {
    // Searched ahead less far than usual, which takes a tenth of the time.
    return {complaint_, cases, 1, policies, {6, 6, 200'000}};
  }

  const moves::Installation room_ = testing::shipped("single-room");
  const moves::Setting setting_{room_, 7};
  Complaint complaint_;
};

// What was drawn and complained of is bad as often as the belief after the complaint says: two ways
// to one number, for every fault.
TEST_F(Trials, DrawCasesAsOftenAsTheBeliefExpectsThem) {
  const plan::CaseBelief belief(setting_, complaint_.route, 0,
                                moves::weights_of_outcome(sense(), *complaint_.heard));
  const std::vector<double> expected = belief.present_now();
  constexpr int kCases = 3000;
  const CaseDrawer drawer(setting_, complaint_);
  std::vector<int> counts(expected.size(), 0);
  for (int number = 0; number < kCases; ++number) {
    const auto drawn = drawer.draw(static_cast<std::uint64_t>(number));
    ASSERT_TRUE(drawn);
    EXPECT_EQ(drawn->heard, *complaint_.heard);
    for (std::size_t fault = 0; fault < counts.size(); ++fault) {
      counts[fault] += drawn->truth.states[fault] != belief::kAbsent ? 1 : 0;
    }
  }
  for (std::size_t fault = 0; fault < counts.size(); ++fault) {
    const double error = std::sqrt(expected[fault] * (1 - expected[fault]) / kCases);
    // The working belief leaves out sets of three and more, hence the last term.
    EXPECT_NEAR(static_cast<double>(counts[fault]) / kCases, expected[fault], 4.5 * error + 1e-3)
        << setting_.name_of(FaultId{static_cast<std::uint32_t>(fault)});
  }
}

TEST_F(Trials, TheSameSeedGivesTheSameCasesWhateverElseIsPlayed) {
  const Outcome alone = run(setting_, setting_, options(40, {"time"}), {});
  const Outcome among = run(setting_, setting_, options(40, {"random", "fixed order", "time"}), {});
  ASSERT_EQ(alone.cases, 40U);
  ASSERT_EQ(among.scores.back().policy, "time");
  for (std::size_t number = 0; number < 40; ++number) {
    EXPECT_EQ(alone.scores[0].played[number].priced_minutes,
              among.scores[2].played[number].priced_minutes);
  }
  Options other = options(40, {"time"});
  other.seed = 2;
  EXPECT_NE(run(setting_, setting_, other, {}).scores[0].mean_priced.value,
            alone.scores[0].mean_priced.value);
}

// What is remembered, and by how many threads, makes no difference to any case, whatever the way.
TEST_F(Trials, TheSameSeedGivesTheSameWithoutMemory) {
  std::vector<std::string> policies;
  for (const PolicyKind& kind : policy_kinds()) policies.push_back(kind.name);
  Options asked = options(40, policies);
  asked.depth.work = 20'000;
  const Outcome with = run(setting_, setting_, asked, {});
  asked.remember = false;
  const Outcome without = run(setting_, setting_, asked, {});
  ASSERT_EQ(with.scores.size(), policies.size());
  for (std::size_t policy = 0; policy < policies.size(); ++policy) {
    for (std::size_t number = 0; number < asked.cases; ++number) {
      const Played& one = with.scores[policy].played[number];
      const Played& other = without.scores[policy].played[number];
      EXPECT_EQ(one.priced_minutes, other.priced_minutes) << policies[policy] << number;
      EXPECT_EQ(one.moves, other.moves) << policies[policy] << number;
      EXPECT_EQ(one.doubt, other.doubt) << policies[policy] << number;
    }
  }
}

// Sooner, by what was found at earlier steps: the same steps as are advised one by one.
TEST_F(Trials, RememberedWaysGiveTheStepsThatAreAdvised) {
  const Options asked = options(40, {"time", "split", "moves"});
  const Outcome outcome = run(setting_, setting_, asked, {});
  const CaseDrawer drawer(setting_, complaint_);
  for (const Score& score : outcome.scores) {
    const plan::Aim aim = *plan::aim_of(score.policy);
    for (std::uint64_t number = 0; number < asked.cases; ++number) {
      const auto drawn = drawer.draw(1'000'003 + number);
      ASSERT_TRUE(drawn);
      simulate::Room room = drawn->room;
      guide::Course course(setting_, complaint_.route, 0,
                           moves::weights_of_outcome(sense(), drawn->heard));
      guide::Advice advice = course.advise(aim, asked.depth);
      while (advice.stage == guide::Stage::under_way) {
        const std::size_t heard = room.respond(course.standing(), *advice.move);
        const faults::Sense& by = setting_.rules().senses[advice.move->sense];
        course.take(*advice.move, {by.outcome_name(heard), std::nullopt},
                    moves::weights_of_outcome(by, heard));
        advice = course.advise(aim, asked.depth);
      }
      EXPECT_EQ(score.played[number].moves, course.steps().size()) << score.policy << number;
      EXPECT_EQ(score.played[number].doubt, advice.plan.something_wrong) << score.policy << number;
    }
  }
}

TEST(Memory, HoldsNoMoreThanItsMost) {
  Memory memory;
  Memory::Place* first = memory.first(3);
  ASSERT_NE(first, nullptr);
  EXPECT_EQ(memory.first(3), first);
  EXPECT_EQ(memory.choice(first), nullptr);
  memory.note(first, {guide::Stage::mended, std::nullopt, .25});
  memory.note(first, {guide::Stage::handed_over, std::nullopt, .5});  // too late
  ASSERT_NE(memory.choice(first), nullptr);
  EXPECT_EQ(memory.choice(first)->stage, guide::Stage::mended);
  std::size_t places = 1;
  while (memory.next(first, places) != nullptr) ++places;
  EXPECT_EQ(places, kMostRemembered);
  EXPECT_EQ(memory.next(nullptr, 0), nullptr);
  EXPECT_NE(memory.next(first, 1), nullptr);  // what is there is still found
}

// A case that is remembered goes as the program itself would guide it, step by step.
TEST_F(Trials, RememberedChoicesAreThoseOfTheGuidedCase) {
  const Outcome outcome = run(setting_, setting_, options(60, {"time"}), {});
  const CaseDrawer drawer(setting_, complaint_);
  for (std::uint64_t number = 0; number < 60; ++number) {
    const auto drawn = drawer.draw(1'000'003 + number);
    ASSERT_TRUE(drawn);
    simulate::Room room = drawn->room;
    guide::Course course(setting_, complaint_.route, 0,
                         moves::weights_of_outcome(sense(), drawn->heard));
    double minutes = 0;
    for (guide::Advice advice = course.advise(plan::Aim::time, options(1, {}).depth);
         advice.stage == guide::Stage::under_way;
         advice = course.advise(plan::Aim::time, options(1, {}).depth)) {
      const std::size_t heard = room.respond(course.standing(), *advice.move);
      const faults::Sense& by = setting_.rules().senses[advice.move->sense];
      minutes += advice.move->minutes;
      course.take(*advice.move, {by.outcome_name(heard), std::nullopt},
                  moves::weights_of_outcome(by, heard));
    }
    minutes += moves::put_back_minutes(setting_, course.standing());
    EXPECT_NEAR(outcome.scores[0].played[number].minutes, minutes, 1e-9) << number;
  }
}

// Of the cases that are closed, as many are closed with the fault still in as the doubt at closing
// says: the belief, the planner and the room tell the same story.
TEST_F(Trials, TheDoubtAtClosingIsHowOftenTheFaultIsLeftIn) {
  constexpr std::size_t kCases = 3000;
  Options asked = options(kCases, {"time"});
  asked.depth.work = 0;  // who ends a case is the same with a search, and that takes a minute here
  const Outcome outcome = run(setting_, setting_, asked, {});
  double doubt = 0;
  double spread = 0;
  std::size_t left_in = 0;
  for (const Played& one : outcome.scores[0].played) {
    if (one.service) continue;
    doubt += one.doubt;
    spread += one.doubt * (1 - one.doubt);
    left_in += one.left_in ? 1 : 0;
  }
  EXPECT_GT(doubt, 1);
  EXPECT_NEAR(static_cast<double>(left_in), doubt, 3 * std::sqrt(spread));
}

TEST_F(Trials, OursBeatsEveryPlainPolicyHere) {
  std::vector<std::string> policies;
  for (const PolicyKind& kind : policy_kinds()) policies.push_back(kind.name);
  const Outcome outcome = run(setting_, setting_, options(300, policies), {});
  const Score& ours = outcome.scores.front();
  EXPECT_EQ(ours.policy, "time");
  for (const Score& other : outcome.scores) {
    EXPECT_LE(ours.mean_priced.value, other.mean_priced.value) << other.policy;
    EXPECT_LE(other.most_moves, guide::kMostMoves) << other.policy;
  }
}

TEST_F(Trials, OtherRatesMoveThePriorsAndNothingElse) {
  const moves::Installation low = with_rates(room_, Rates::low);
  const moves::Setting truth(low, 7);
  ASSERT_EQ(truth.faults().size(), setting_.faults().size());
  bool lower = false;
  for (const FaultId fault : setting_.faults().ids()) {
    const std::optional<ModeId> mode = setting_.faults()[fault].mode;
    const auto& element = setting_.faults()[fault].element;
    if (!mode || setting_.chain().parts[setting_.chain().elements[*element].part].spare) continue;
    const double present = 1 - truth.network().prior[fault.value][belief::kAbsent];
    const double rate = room_.rules.modes[*mode].rate.low_per_year;
    EXPECT_NEAR(present, -std::expm1(-rate * 7 / 365.25), 1e-15);
    lower = lower || present < 1 - setting_.network().prior[fault.value][belief::kAbsent];
  }
  EXPECT_TRUE(lower);
}

TEST_F(Trials, AComplaintThatNeverHappensGivesNoCase) {
  const moves::Installation never = testing::without_faults(room_);
  const moves::Setting truth(never, 7);
  EXPECT_EQ(run(setting_, truth, options(1, {"time"}), {}).cases, 0U);
}

}  // namespace
}  // namespace whichlink::trial
