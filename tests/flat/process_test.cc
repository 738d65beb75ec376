#include "flat/process.h"

#include <cmath>

#include "belief/belief.h"
#include "flat/support.h"

namespace whichlink::flat {
namespace {

using testing::Written;

const belief::StateMatrix kHalfAppears = {{{.5, .25, .25}, {0, 1, 0}, {0, 0, 1}}};

TEST(Sets, AreAllWaysOfBeingPresentQuietOrShowing) {
  EXPECT_EQ(FaultSets(3, 1).size(), 7U);
  EXPECT_EQ(FaultSets(3, 2).size(), 19U);
  EXPECT_EQ(FaultSets(3, 3).size(), 27U);
  EXPECT_EQ(FaultSets(3, 9).size(), 27U);
  for (std::size_t together = 1; together <= 4; ++together) {
    EXPECT_EQ(FaultSets::count(4, together), static_cast<double>(FaultSets(4, together).size()));
  }
}

TEST(Sets, LeaveOutWhatWouldBeTooManyAndShareTheRest) {
  const FaultSets sets(2, 1);
  const Row row = sets.moved(0, {kHalfAppears, kHalfAppears});
  // Neither: 1/4; the first alone: 1/4; the second alone: 1/4; both are left out.
  ASSERT_EQ(row.size(), 5U);
  EXPECT_DOUBLE_EQ(row[0].chance, 1.0 / 3);
  for (std::size_t index = 1; index < row.size(); ++index) {
    EXPECT_DOUBLE_EQ(row[index].chance, 1.0 / 6);
  }
}

TEST(Sets, LeaveNothingOutWhereAllFit) {
  const FaultSets sets(2, 2);
  const Row row = sets.moved(0, {kHalfAppears, kHalfAppears});
  ASSERT_EQ(row.size(), 9U);
  for (const Entry& entry : row) {
    double chance = 1;
    for (const belief::State state : sets[entry.index]) chance *= kHalfAppears[0][state];
    EXPECT_DOUBLE_EQ(entry.chance, chance);
  }
}

TEST(Sets, StayWhereEverythingElseWouldBeTooMany) {
  const belief::StateMatrix appears = {{{0, 1, 0}, {0, 1, 0}, {0, 0, 1}}};
  const Row row = FaultSets(2, 1).moved(0, {appears, appears});
  ASSERT_EQ(row.size(), 1U);
  EXPECT_EQ(row[0].index, 0U);
  EXPECT_EQ(row[0].chance, 1);
}

class Limited : public ::testing::Test {
 protected:
  const moves::Shop shop_{"single-room"};
  const RouteId route_ = shop_.route("left phone");
  const faults::Sense& sense_ = shop_.setting.rules().senses[SenseId{0}];

  [[nodiscard]] Result<Process> made(const std::string& heard, const Limits& limits) const {
    return process_of(shop_.setting, route_, 0,
                      moves::weights_of_outcome(sense_, *sense_.find(heard)), limits);
  }
};

TEST_F(Limited, ByManyFaultsTogetherIsRefusedInOneLine) {
  const auto process = made("silent", {999, 999, 999});
  ASSERT_FALSE(process);
  ASSERT_EQ(process.error().size(), 1U);
  EXPECT_EQ(to_line(process.error().front()),
            "more than 4000 states; expected fewer faults, faults together or standings");
}

TEST_F(Limited, ByManyStandingsIsRefusedToo) {
  const moves::Shop booth("two-room-booth");
  const auto process =
      process_of(booth.setting, booth.route("left phone"), 0,
                 moves::weights_of_outcome(sense_, *sense_.find("silent")), {30, 1, 999});
  ASSERT_FALSE(process);
  EXPECT_EQ(process.error().front().what, "more than 4000 states");
}

TEST_F(Limited, KeepsWhatExplainsTheComplaintBest) {
  const auto silent = made("silent", {1, 1, 1});
  const auto crackle = made("crackle", {1, 1, 1});
  ASSERT_TRUE(silent && crackle);
  ASSERT_EQ(silent->faults.size(), 1U);
  EXPECT_NE(silent->faults, crackle->faults);
  // Against the working belief of single faults.
  for (const auto* process : {&*silent, &*crackle}) {
    const std::string heard = process == &*silent ? "silent" : "crackle";
    const belief::Slice slice =
        moves::answered(moves::complaint_of(shop_.setting, route_, shop_.chain().home, 0),
                        moves::weights_of_outcome(sense_, *sense_.find(heard)));
    const belief::Posterior posterior =
        belief::by_subsets(shop_.setting.network(), std::vector<belief::Slice>{slice}, 1);
    std::uint32_t best = slice.hearing.path.front();
    for (const std::uint32_t fault : slice.hearing.path) {
      if (posterior.marginal[fault][0] < posterior.marginal[best][0]) best = fault;
    }
    EXPECT_EQ(process->faults.front().value, best) << heard;
  }
}

TEST_F(Limited, StartsFromThePosteriorOfTheComplaint) {
  const auto process = made("silent", {4, 4, 1});
  ASSERT_TRUE(process);
  // Faults that are not kept are absent for good.
  belief::Network network = shop_.setting.network();
  for (const FaultId fault : shop_.setting.faults().ids()) {
    const auto& kept = process->faults;
    if (std::find(kept.begin(), kept.end(), fault) == kept.end()) {
      network.prior[fault.value] = {1, 0, 0};
    }
  }
  std::vector<std::vector<double>> showing;
  std::vector<double> weights;
  double total = 0;
  for (const moves::Arrangement& one : moves::arrangements_of(shop_.setting, route_)) {
    const std::vector<belief::Slice> slices = {
        moves::answered(moves::complaint_of(shop_.setting, route_, one.patching, 0),
                        moves::weights_of_outcome(sense_, *sense_.find("silent"))),
        moves::settling(shop_.setting, SenseId{0})};
    const belief::Posterior posterior = belief::by_thresholds(network, slices).posterior;
    weights.push_back(one.prior * std::exp(posterior.log_evidence));
    total += weights.back();
    showing.emplace_back();
    for (const FaultId fault : process->faults) {
      showing.back().push_back(posterior.marginal[fault.value][belief::kShowing]);
    }
  }
  for (std::size_t ground = 0; ground < weights.size(); ++ground) {
    double weight = 0;
    std::vector<double> shows(process->faults.size(), 0.0);
    for (std::size_t state = 0; state < process->states.size(); ++state) {
      if (process->states[state].ground != ground) continue;
      weight += process->start[state];
      for (std::size_t index = 0; index < shows.size(); ++index) {
        if (process->states[state].faults[index] == belief::kShowing) {
          shows[index] += process->start[state];
        }
      }
    }
    EXPECT_NEAR(weight, weights[ground] / total, 1e-12);
    for (std::size_t index = 0; index < shows.size(); ++index) {
      EXPECT_NEAR(shows[index], weight * showing[ground][index], 1e-12);
    }
  }
}

TEST(Moves, ThatTellAndDoWhatACheaperOneDoesAreLeftOut) {
  const Written written("two-room-booth", "left phone", {});
  const auto& names = written.process.moves;
  const auto has = [&](const std::string& name) {
    return std::find(names.begin(), names.end(), name) != names.end();
  };
  // No kept fault is on any of these routes, except the channel, which is on all of them.
  const std::vector<std::string> alike = {"try left insert", "try right insert", "try bone"};
  EXPECT_LE(std::count_if(alike.begin(), alike.end(), has), 1);
  EXPECT_FALSE(has("try talkback"));
  EXPECT_TRUE(has("listen"));
  EXPECT_TRUE(has("substitute spare headset cord for headset cord"));
}

TEST(Moves, StayWithinTheStandingsThatAreKept) {
  const Written one("two-room-booth", "left phone", {2, 1, 1});
  EXPECT_EQ(one.process.grounds.standings.size(), 1U);
  for (const auto& rows : one.process.next) {
    for (const Row& row : rows) {
      for (const Entry& entry : row) {
        if (entry.index == one.process.end()) continue;
        EXPECT_EQ(one.process.grounds.grounds[one.process.states[entry.index].ground].standing, 0U);
      }
    }
  }
}

}  // namespace
}  // namespace whichlink::flat
