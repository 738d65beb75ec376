#include <cmath>
#include <numeric>

#include "base/random.h"
#include "moves/support.h"

namespace whichlink::moves {
namespace {

class Numbers : public ::testing::TestWithParam<std::string> {};
std::string claim_of(const ::testing::TestParamInfo<std::string>& info) {
  std::string name = info.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Moves, Numbers, ::testing::ValuesIn(kShipped), claim_of);

double sum(const std::vector<double>& row) {
  return std::accumulate(row.begin(), row.end(), 0.0);
}

void expect_well_formed(const belief::Question& question, const std::string& name) {
  for (const belief::Transition& one : question.transitions) {
    for (const belief::StateVector& row : one.matrix) {
      EXPECT_NEAR(row[0] + row[1] + row[2], 1, 1e-12) << name;
      for (const double chance : row) EXPECT_GE(chance, 0) << name;
    }
  }
  EXPECT_TRUE(std::is_sorted(question.transitions.begin(), question.transitions.end(),
                             [](const auto& a, const auto& b) { return a.fault < b.fault; }))
      << name;
  ASSERT_FALSE(question.report.empty()) << name;
  for (const std::vector<double>& row : question.report) {
    EXPECT_NEAR(sum(row), 1, 1e-9) << name;
    EXPECT_EQ(row.size(), question.report.front().size()) << name;
  }
  EXPECT_EQ(question.leak_at_most.size(), question.report.size()) << name;
  EXPECT_EQ(question.leak_at_most.back(), 1) << name;
  EXPECT_TRUE(std::is_sorted(question.leak_at_most.begin(), question.leak_at_most.end())) << name;
  EXPECT_TRUE(std::adjacent_find(question.path.begin(), question.path.end(),
                                 [](auto a, auto b) { return a >= b; }) == question.path.end())
      << name;
}

TEST_P(Numbers, EveryQuestionIsMadeOfChances) {
  const Shop shop(GetParam());
  for (const RouteId route : shop.chain().routes.ids()) {
    const Standing standing = stand_at_start(shop.setting, route);
    for (const Arrangement& real : arrangements_of(shop.setting, route)) {
      expect_well_formed(complaint_of(shop.setting, route, real.patching, 0), "complaint");
      for (const Move& move : derive_moves(shop.setting, standing)) {
        for (const std::size_t listener : {0U, 1U}) {
          if (listener >= shop.setting.rules().senses[move.sense].listeners.size()) continue;
          expect_well_formed(question_of(shop.setting, standing, move, real.patching, listener),
                             move.name);
        }
      }
    }
  }
}

TEST_P(Numbers, ArrangementsAddUpToOneAndTheRightOneComesFirst) {
  const Shop shop(GetParam());
  for (const RouteId route : shop.chain().routes.ids()) {
    const auto all = arrangements_of(shop.setting, route);
    double total = 0;
    for (const Arrangement& one : all) {
      total += one.prior;
      EXPECT_LE(one.prior, all.front().prior);
      EXPECT_EQ(one.crossed.empty(), one.patching == shop.chain().home);
    }
    EXPECT_NEAR(total, 1, 1e-12);
    EXPECT_EQ(all.front().patching, shop.chain().home);
  }
}

class BoothNumbers : public ::testing::Test {
 protected:
  const Shop booth_{"two-room-booth"};
  const Standing start_ = booth_.start("left phone");
  belief::Question question(const std::string& name) const {
    return question_of(booth_.setting, start_, booth_.move(start_, name), start_.patching, 0);
  }
  belief::StateMatrix matrix(const std::string& move, const std::string& fault) const {
    const FaultId id = booth_.fault(fault);
    for (const belief::Transition& one : question(move).transitions) {
      if (one.fault == id.value) return one.matrix;
    }
    return belief::kIdentity;
  }
};

TEST_F(BoothNumbers, AStressProvokesOnlyTheStressedElementAndItsMate) {
  const belief::Question listen = question("listen");
  const ElementId plug = booth_.element("headset cord.left plug");
  const ElementId mate = booth_.element("left inside jack");
  std::size_t provoked = 0;
  const auto quiet_to_showing = [](const belief::Question& one, FaultId fault) {
    for (const belief::Transition& transition : one.transitions) {
      if (transition.fault == fault.value) {
        return transition.matrix[belief::kQuiet][belief::kShowing];
      }
    }
    return 0.0;
  };
  const belief::Question twist = question("twist headset cord.left plug");
  for (const FaultId fault : booth_.setting.faults().ids()) {
    const auto element = booth_.setting.faults()[fault].element;
    const bool own = element == plug || element == mate;
    const double extra = quiet_to_showing(twist, fault) - quiet_to_showing(listen, fault);
    if (own) {
      provoked += extra > .3 ? 1 : 0;
    } else {
      EXPECT_NEAR(extra, 0, 1e-12) << booth_.setting.name_of(fault);
    }
  }
  EXPECT_EQ(provoked, 5U);  // two of the plug, three of the jack
}

TEST_F(BoothNumbers, ReplacingAPlugInItsJackCuresSeatingAndListeningDoesNot) {
  const std::string fault = "headset cord.left plug: not home";
  const auto replugged = matrix("cross headset cord.left plug with headset cord.right plug", fault);
  // Cured for certain, then brought about anew with the rules' small chance.
  EXPECT_NEAR(replugged[belief::kShowing][belief::kAbsent], 1 - .004, 1e-12);
  EXPECT_NEAR(replugged[belief::kAbsent][belief::kAbsent], 1 - .004, 1e-12);
  EXPECT_EQ(matrix("listen", fault)[belief::kShowing][belief::kAbsent], 0);
}

TEST_F(BoothNumbers, AReplacedCordsFaultsAreNoLongerOnThePath) {
  const auto holds = [&](const std::string& move, const std::string& fault) {
    const auto path = question(move).path;
    return std::binary_search(path.begin(), path.end(), booth_.fault(fault).value);
  };
  const std::string swap = "substitute spare headset cord for headset cord";
  const std::string old_one = "headset cord.cord.left: fractured conductor";
  EXPECT_TRUE(holds("listen", old_one));
  EXPECT_FALSE(holds(swap, old_one));
  EXPECT_FALSE(holds("listen", "spare " + old_one));
  EXPECT_TRUE(holds(swap, "spare " + old_one));
}

TEST_F(BoothNumbers, AMeterHearsOnlyThePartsOwnLanes) {
  const belief::Question measure = question("measure headset cord");
  std::size_t left = 0;
  for (const std::uint32_t id : measure.path) {
    const std::string name = booth_.setting.name_of(FaultId{id});
    EXPECT_EQ(name.rfind("headset cord.", 0), 0U) << name;
    EXPECT_EQ(name.find("right"), std::string::npos) << name;
    left += name.find("left") != std::string::npos ? 1 : 0;
  }
  EXPECT_GE(left, 6U);
}

TEST_F(BoothNumbers, ACrossedRoomIsHeardOnTheOtherSide) {
  for (const Arrangement& one : arrangements_of(booth_.setting, start_.route)) {
    const auto question = complaint_of(booth_.setting, start_.route, one.patching, 0);
    const double noticed = booth_.setting.rules().senses[SenseId{0}].chance_elsewhere_noticed;
    EXPECT_NEAR(question.report.front().back(), one.crossed.empty() ? 0 : noticed, 1e-12)
        << one.words;
  }
}

TEST_F(BoothNumbers, AStatedDropPeaksAtTheNearestLevel) {
  const faults::Sense& ear = booth_.setting.rules().senses[SenseId{0}];
  for (double drop = 1; drop <= 70; drop += 1.5) {
    const ReportWeights weights = weights_of_drop(ear, drop);
    const auto peak = static_cast<std::size_t>(std::max_element(weights.begin(), weights.end()) -
                                               weights.begin());
    ASSERT_TRUE(ear.symptoms[peak].drop_db);
    for (const faults::Symptom& other : ear.symptoms) {
      if (other.drop_db) {
        EXPECT_LE(std::abs(*ear.symptoms[peak].drop_db - drop), std::abs(*other.drop_db - drop));
      }
    }
    EXPECT_EQ(weights.front(), 0);  // "nothing wrong" has no drop
  }
  EXPECT_NEAR(weights_of_drop(ear, 20)[*ear.find("weak 20")], 1, 1e-12);
  EXPECT_NEAR(weights_of_drop(ear, 24)[*ear.find("weak 20")], std::exp(-.5), 1e-12);
}

TEST(Priors, AreTheChanceOfAtLeastOneEvent) {
  for (const double rate : {1e-9, .01, .3, 4.0, 50.0}) {
    for (const double days : {0.0, .5, 7.0, 365.25, 2000.0}) {
      EXPECT_NEAR(chance_within(rate, days), 1 - std::exp(-rate * days / 365.25), 1e-15);
    }
  }
  EXPECT_GT(chance_within(1e-18, 1), 0);
}

TEST(Priors, AgreeWithEventsDrawnOneByOne) {
  Random random(11);
  const int draws = 40000;
  for (const double rate : {.5, 4.0, 20.0}) {
    const double days = 60;
    int hit = 0;
    for (int draw = 0; draw < draws; ++draw) {
      // The waiting time for the first event of a Poisson process.
      const double until_first = -std::log(1 - random.uniform()) / rate;
      hit += until_first <= days / 365.25 ? 1 : 0;
    }
    const double chance = chance_within(rate, days);
    const double error = std::sqrt(chance * (1 - chance) / draws);
    EXPECT_NEAR(static_cast<double>(hit) / draws, chance, 4 * error);
  }
}

TEST(Priors, OfASpareAddUpToItsStatesChanceWhateverTheDays) {
  for (const double days : {0.0, 7.0, 300.0}) {
    const Shop booth("two-room-booth", days);
    for (const chain::Part& part : booth.chain().parts) {
      if (!part.spare) continue;
      double total = 0;
      for (const ElementId element : part.elements) {
        for (const FaultId fault : booth.setting.faults_of(element)) {
          total += 1 - booth.setting.network().prior[fault.value][belief::kAbsent];
        }
      }
      double wanted = -1;
      for (const faults::SpareState& state : booth.setting.rules().spare_states) {
        if (state.name == part.spare_state) wanted = state.chance_bad;
      }
      EXPECT_NEAR(total, wanted, 1e-9) << part.name;
    }
  }
}

}  // namespace
}  // namespace whichlink::moves
