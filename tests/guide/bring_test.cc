#include "guide/bring.h"

#include <algorithm>

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
