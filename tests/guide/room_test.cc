#include "simulate/room.h"

#include <cmath>

#include "guide/support.h"
#include "moves/support.h"

namespace whichlink::testing {
namespace {

constexpr int kDraws = 20000;

// The chance of each outcome of a question where the states before it are known.
std::vector<double> predicted(const moves::Setting& setting, const belief::Question& question,
                              const std::vector<belief::State>& states) {
  std::vector<double> showing(states.size());
  for (std::size_t fault = 0; fault < states.size(); ++fault) {
    showing[fault] = states[fault] == belief::kShowing ? 1 : 0;
  }
  for (const belief::Transition& one : question.transitions) {
    showing[one.fault] = one.matrix[states[one.fault]][belief::kShowing];
  }
  std::vector<double> chances(question.report.front().size(), 0.0);
  double below = 0;
  for (std::size_t severity = 0; severity < question.report.size(); ++severity) {
    double at_most = question.leak_at_most[severity];
    for (const std::uint32_t fault : question.path) {
      const double sounds = setting.network().at_most[question.sense][fault][severity];
      at_most *= 1 - showing[fault] * (1 - sounds);
    }
    for (std::size_t outcome = 0; outcome < chances.size(); ++outcome) {
      chances[outcome] += (at_most - below) * question.report[severity][outcome];
    }
    below = at_most;
  }
  return chances;
}

class SimulatedRooms : public ::testing::Test {
 protected:
  void expect_frequencies(const std::string& route_name, const std::string& fault,
                          belief::State state, const std::string& name) {
    const moves::Standing standing = room_.start(route_name);
    simulate::Truth truth = simulate::nothing_wrong(setting_);
    truth.states[room_.fault(fault).value] = state;
    const moves::Move move = room_.move(standing, name);
    const belief::Question question = moves::question_of(setting_, standing, move, truth.real, 0);
    const std::vector<double> chances = predicted(setting_, question, truth.states);
    std::vector<int> counts(chances.size(), 0);
    for (int draw = 0; draw < kDraws; ++draw) {
      simulate::Room room(setting_, truth, 0, static_cast<std::uint64_t>(draw));
      ++counts[room.respond(standing, move)];
    }
    for (std::size_t outcome = 0; outcome < chances.size(); ++outcome) {
      const double chance = chances[outcome];
      const double error = std::sqrt(chance * (1 - chance) / kDraws);
      EXPECT_NEAR(static_cast<double>(counts[outcome]) / kDraws, chance, 4 * error + 1e-12)
          << name << ", outcome " << outcome;
    }
  }

  const moves::Shop room_{"single-room"};
  const moves::Setting& setting_ = room_.setting;
};

TEST_F(SimulatedRooms, AnswerAListenAsOftenAsTheModelSays) {
  expect_frequencies("left phone", "headset cord.cord.left: fractured conductor", belief::kQuiet,
                     "listen");
}

TEST_F(SimulatedRooms, AnswerAStressAsOftenAsTheModelSays) {
  expect_frequencies("left phone", "headset cord.cord.left: fractured conductor", belief::kQuiet,
                     "flex headset cord.cord");
}

TEST_F(SimulatedRooms, AnswerACrossingAsOftenAsTheModelSays) {
  expect_frequencies("left phone", "left earphone.driver: level off", belief::kShowing,
                     "cross headset cord.left plug with headset cord.right plug");
}

TEST_F(SimulatedRooms, AnswerASubstitutionAsOftenAsTheModelSays) {
  expect_frequencies("left phone", "headset cord.cord.left: broken conductor", belief::kShowing,
                     "substitute spare headset cord for headset cord");
}

TEST_F(SimulatedRooms, AreSoundOnlyWithoutAFaultOnTheRouteAndPluggedRight) {
  const RouteId left{};
  const moves::Standing start = moves::stand_at_start(setting_, left);
  simulate::Truth truth = simulate::nothing_wrong(setting_);
  EXPECT_TRUE(simulate::Room(setting_, truth, 0, 1).sound(start));
  truth.states[setting_.unlisted_of(left).value] = belief::kQuiet;
  EXPECT_FALSE(simulate::Room(setting_, truth, 0, 1).sound(start));
  truth = simulate::nothing_wrong(setting_);
  for (const moves::Arrangement& one : moves::arrangements_of(setting_, left)) {
    truth.real = one.patching;
    EXPECT_EQ(simulate::Room(setting_, truth, 0, 1).sound(start), one.crossed.empty());
  }
}

// A bad part that a good spare stands in for does no harm, at the end of the route as elsewhere.
TEST_F(SimulatedRooms, AreSoundOnceASpareStandsInForTheBadPart) {
  const moves::Installation booth = shipped("two-room-booth");
  const moves::Setting setting(booth, 7);
  const moves::Standing start = moves::stand_at_start(setting, RouteId{});
  std::size_t tried = 0;
  for (const moves::Move& move : moves::derive_moves(setting, start)) {
    const auto* swap = std::get_if<moves::Substitute>(&move.action);
    if (swap == nullptr || !setting.chain().parts[swap->in].spare) continue;
    const ElementId first = setting.chain().parts[swap->out].elements.front();
    simulate::Truth truth = simulate::nothing_wrong(setting);
    for (const FaultId fault : setting.faults_of(first)) {
      truth.states[fault.value] = belief::kShowing;
    }
    simulate::Room room(setting, truth, 0, 1);
    EXPECT_FALSE(room.sound(start)) << move.name;
    (void)room.respond(start, move);
    EXPECT_TRUE(room.sound(moves::after(setting, start, move))) << move.name;
    ++tried;
  }
  EXPECT_GE(tried, 2U);
}

}  // namespace
}  // namespace whichlink::testing
