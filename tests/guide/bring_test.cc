#include "guide/bring.h"

#include <algorithm>
#include <cmath>

#include "guide/support.h"

namespace whichlink::testing {
namespace {

// At least the likeliest fault of the part, at most all of them together; each fault's chance from
// the picture, which is reckoned another way than what is believed to be there now.
void expect_between(const guide::Case& one, const guide::PartInDoubt& doubt) {
  const plan::Picture picture = one.picture();
  double largest = 0;
  double sum = 0;
  for (const ElementId element : one.setting().chain().parts[doubt.part].elements) {
    for (const FaultId fault : one.setting().faults_of(element)) {
      const double present = 1 - picture.marginal[fault.value][belief::kAbsent];
      largest = std::max(largest, present);
      sum += present;
    }
  }
  EXPECT_GE(doubt.chance, largest - 1e-9);
  EXPECT_LE(doubt.chance, sum + 1e-9);
}

TEST(Bring, PartsInDoubtAreRankedAndTheirChancesAddUp) {
  for (const std::string model : {"screening-set", "single-room", "two-room-booth"}) {
    const moves::Installation installation = shipped(model);
    const auto one = open_case(installation, "left phone", {"drops out", {}});
    ASSERT_NE(one, nullptr);
    const auto doubts = guide::parts_in_doubt(*one);
    ASSERT_FALSE(doubts.empty()) << model;
    for (const guide::PartInDoubt& doubt : doubts) expect_between(*one, doubt);
    EXPECT_TRUE(std::is_sorted(doubts.begin(), doubts.end(),
                               [](const auto& a, const auto& b) { return a.chance > b.chance; }));
    EXPECT_EQ(one->setting().chain().parts[doubts.front().part].name, "headset cord");
    EXPECT_TRUE(doubts.front().staff_may);
    EXPECT_GE(guide::parts_in_doubt(*one, 0).size(), doubts.size());
    EXPECT_TRUE(guide::parts_in_doubt(*one, 1.1).empty());
  }
}

// P(reports), with the faults of one part taken out of the world or not; by the exact methods, not
// by the working belief.
double evidence(const guide::Case& one, const belief::Network& network) {
  double sum = 0;
  for (const plan::Hypothesis& way : one.belief().hypotheses()) {
    sum += way.arrangement.prior *
           std::exp(belief::best_posterior(network, way.slices).posterior.log_evidence);
  }
  return sum;
}

// Nothing was touched, so what is bad now was bad at the complaint: Bayes, with the part sound.
double bad_by_bayes(const guide::Case& one, PartId part) {
  belief::Network sound = one.setting().network();
  double prior = 1;
  for (const ElementId element : one.setting().chain().parts[part].elements) {
    for (const FaultId fault : one.setting().faults_of(element)) {
      prior *= sound.prior[fault.value][belief::kAbsent];
      sound.prior[fault.value] = {1, 0, 0};
    }
  }
  return 1 - prior * evidence(one, sound) / evidence(one, one.setting().network());
}

// How far off the working belief may be, by its own word: each way of being plugged alone, and so
// all of them together.
double left_out(const guide::Case& one) {
  double largest = 0;
  for (const plan::Hypothesis& way : one.belief().hypotheses()) {
    largest = std::max(largest, way.belief.posterior().left_out);
  }
  return largest;
}

TEST(Bring, APartIsAsBadAsItsFaultsTogetherAndTheyExplainEachOtherAway) {
  for (const std::string heard : {"silent", "drops out"}) {
    const moves::Installation installation = shipped("single-room");
    const auto one = open_case(installation, "left phone", {heard, {}}, {{"listen", heard}});
    ASSERT_NE(one, nullptr);
    const double off = left_out(*one);
    EXPECT_LT(off, .01);  // or this would show nothing
    std::size_t parts = 0;
    for (const guide::PartInDoubt& doubt : guide::parts_in_doubt(*one, .001)) {
      EXPECT_NEAR(doubt.chance, bad_by_bayes(*one, doubt.part), off) << doubt.part.value;
      ++parts;
    }
    EXPECT_GE(parts, 4U) << heard;
  }
}

TEST(Bring, ASpareThatIsInIsNoLongerInTheDrawer) {
  const moves::Installation installation = shipped("single-room");
  const auto before = open_case(installation, "left phone", {"drops out", {}});
  const auto after = open_case(installation, "left phone", {"drops out", {}},
                               {{"substitute spare headset cord for headset cord", "drops out"}});
  const auto find = [&](const guide::Case& one, const std::string& name) {
    for (const guide::PartInDoubt& doubt : guide::parts_in_doubt(one, 0)) {
      if (one.setting().chain().parts[doubt.part].name == name) {
        return std::optional<guide::PartInDoubt>(doubt);
      }
    }
    return std::optional<guide::PartInDoubt>();
  };
  ASSERT_TRUE(find(*before, "headset cord"));
  EXPECT_TRUE(find(*before, "headset cord")->lies_ready);
  EXPECT_FALSE(find(*after, "headset cord"));  // it is out: nobody need bring another for it
  ASSERT_TRUE(find(*after, "spare headset cord"));
  EXPECT_FALSE(find(*after, "spare headset cord")->lies_ready);
}

}  // namespace
}  // namespace whichlink::testing
