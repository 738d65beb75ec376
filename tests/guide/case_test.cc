#include <cmath>

#include "guide/support.h"
#include "simulate/room.h"

namespace whichlink::testing {
namespace {

class Cases : public ::testing::Test {
 protected:
  moves::Installation booth_ = shipped("two-room-booth");
};

TEST_F(Cases, TakingBackAnAnswerLeavesTheCaseAsItWas) {
  auto one = open_case(booth_, "left phone", {"silent", {}}, {{"listen", "steady"}});
  const auto before = one->picture();
  ASSERT_FALSE(one->answer({"flex headset cord.cord", {"drops out", {}}, {}}));
  EXPECT_NE(one->picture().log_evidence, before.log_evidence);
  ASSERT_TRUE(one->take_back());
  EXPECT_EQ(one->picture().log_evidence, before.log_evidence);
  EXPECT_EQ(one->events().done.size(), 1U);
  ASSERT_TRUE(one->take_back());
  EXPECT_FALSE(one->take_back());
}

TEST_F(Cases, AMoveThatCannotBeDoneIsNotAskedForAgain) {
  auto one = open_case(booth_, "left phone", {"silent", {}});
  std::vector<std::string> refused;
  for (int round = 0; round < 5; ++round) {
    const guide::Advice advice = one->advise();
    ASSERT_TRUE(advice.move);
    for (const std::string& name : refused) EXPECT_NE(advice.move->name, name);
    refused.push_back(advice.move->name);
    ASSERT_FALSE(one->answer({advice.move->name, {guide::kCannotDo, {}}, {}}));
  }
}

TEST_F(Cases, NotSureMovesThingsButTellsNothing) {
  const auto before = open_case(booth_, "left phone", {"silent", {}});
  const auto after = open_case(booth_, "left phone", {"silent", {}}, {{"listen", "not sure"}});
  EXPECT_NEAR(before->picture().log_evidence, after->picture().log_evidence, 1e-9);
}

TEST_F(Cases, AnImpossibleMoveOrReportIsRefusedAndChangesNothing) {
  auto one = open_case(booth_, "left phone", {"silent", {}});
  const auto move = one->answer({"flex hedset cord.cord", {"steady", {}}, {"case.yaml", 4, 3}});
  ASSERT_TRUE(move);
  EXPECT_EQ(move->hint, "flex headset cord.cord");
  EXPECT_EQ(move->place.line, 4);
  const auto report = one->answer({"listen", {"stedy", {}}, {}});
  ASSERT_TRUE(report);
  EXPECT_EQ(report->hint, "steady");
  EXPECT_TRUE(one->events().done.empty());
  EXPECT_TRUE(one->steps().empty());
}

// A case file could not be read back with it.
TEST_F(Cases, ADropThatIsNoneOrBeyondAllMeasureIsRefused) {
  const auto opens = [&](double drop_db) {
    guide::CaseFile events;
    events.route = "left phone";
    events.complaint = {"weak", drop_db};
    return guide::Case::open(booth_, events).has_value();
  };
  for (const double drop_db : {0.0, -25.0, 120.5, std::nan("")}) EXPECT_FALSE(opens(drop_db));
  for (const double drop_db : {0.5, 120.0}) EXPECT_TRUE(opens(drop_db));
}

TEST_F(Cases, WhatCannotBeHeardIsRefusedAndChangesNothing) {
  const moves::Installation sound = without_faults(booth_);
  guide::CaseFile events;
  events.route = "left phone";
  events.complaint = {"silent", {}};
  events.complaint_place = {"case.yaml", 2, 9};
  const auto silent = guide::Case::open(sound, events);
  ASSERT_FALSE(silent);
  EXPECT_NE(to_line(silent.error().front()).find("case.yaml:2:9: \"silent\" cannot be heard"),
            std::string::npos);

  auto one = open_case(sound, "left phone", {"steady", {}});
  const auto problem = one->answer({"listen", {"silent", {}}, {"case.yaml", 4, 3}});
  ASSERT_TRUE(problem);
  EXPECT_EQ(problem->what, "\"silent\" cannot follow from what was heard before");
  EXPECT_TRUE(one->steps().empty());
  EXPECT_TRUE(one->events().done.empty());
  EXPECT_FALSE(one->answer({"listen", {"steady", {}}, {}}));
}

TEST_F(Cases, TheSameEventsGiveTheSameAdvice) {
  const std::vector<Told> done = {{"try right phone", "steady"},
                                  {"flex headset cord.cord", "steady"}};
  const auto first = open_case(booth_, "left phone", {"drops out", {}}, done)->advise();
  const auto second = open_case(booth_, "left phone", {"drops out", {}}, done)->advise();
  ASSERT_EQ(first.plan.candidates.size(), second.plan.candidates.size());
  for (std::size_t index = 0; index < first.plan.candidates.size(); ++index) {
    EXPECT_EQ(first.plan.candidates[index].move.name, second.plan.candidates[index].move.name);
    EXPECT_EQ(first.plan.candidates[index].expected_minutes,
              second.plan.candidates[index].expected_minutes);
  }
}

TEST_F(Cases, WhatIsChangedForATestIsOnThePutBackListUntilItIsBack) {
  auto one = open_case(booth_, "left phone", {"silent", {}},
                       {{"connect headset cord.left plug into left jack", "silent"}});
  const auto list = one->ending(guide::Stage::handed_over).put_back;
  // The left plug, the patch plug that made room for it, and the right plug that came along.
  ASSERT_EQ(list.size(), 3U);
  std::string all;
  for (const std::string& line : list) all += line + "\n";
  EXPECT_NE(all.find("headset cord.left plug into left inside jack"), std::string::npos) << all;
  EXPECT_NE(all.find("headset cord.right plug into right inside jack"), std::string::npos) << all;
  EXPECT_NE(all.find("left patch cord.near plug into left jack"), std::string::npos) << all;
  ASSERT_FALSE(one->answer({"put back", {"silent", {}}, {}}));
  EXPECT_TRUE(one->ending(guide::Stage::handed_over).put_back.empty());
}

// The picture that people see (exact) and the belief that plans (pairs, pruned) are two ways to one
// number.
TEST_F(Cases, TheWorkingBeliefAgreesWithThePicture) {
  const auto one = open_case(booth_, "left phone", {"drops out", {}},
                             {{"listen", "steady"},
                              {"flex headset cord.cord", "steady"},
                              {"try right phone", "steady"},
                              {"twist left patch cord.far plug", "crackle"}});
  const auto picture = one->picture();
  const std::vector<double> present = one->belief().present_now();
  for (std::size_t fault = 0; fault < present.size(); ++fault) {
    EXPECT_NEAR(present[fault], 1 - picture.marginal[fault][belief::kAbsent], 0.01)
        << one->setting().name_of(FaultId{static_cast<std::uint32_t>(fault)});
  }
}

TEST_F(Cases, AnEndingOfAMendedCaseNamesThePlantedFault) {
  auto one = open_case(booth_, "left phone", {"silent", {}},
                       {{"connect headset cord.left plug into left jack", "silent"},
                        {"put back", "silent"},
                        {"substitute spare headset cord for headset cord", "steady"},
                        {"stress all", "steady"}});
  const guide::Ending ending = one->ending(guide::Stage::mended);
  ASSERT_FALSE(ending.causes.empty());
  EXPECT_EQ(ending.causes.front().name, "headset cord.cord.left: broken conductor");
  EXPECT_GT(ending.causes.front().chance, 0.8);
  ASSERT_EQ(ending.throw_out.size(), 1U);
  EXPECT_EQ(ending.throw_out.front(), "headset cord");
  EXPECT_FALSE(ending.needs_after.empty());
  EXPECT_TRUE(ending.put_back.empty());
}

// The earphone from the drawer is silent where the old one was only weak: it is the bad one, though
// it was only tried.
TEST_F(Cases, ASpareThatProvedBadIsThrownOut) {
  auto one = open_case(booth_, "left phone", {"weak 10", {}},
                       {{"substitute drawer earphone for left earphone", "silent"},
                        {"take out drawer earphone", "weak 10"},
                        {"substitute drawer earphone for left earphone", "silent"},
                        {"take out drawer earphone", "weak 10"}});
  const guide::Ending ending = one->ending(guide::Stage::handed_over);
  ASSERT_EQ(ending.throw_out.size(), 1U);
  EXPECT_EQ(ending.throw_out.front(), "drawer earphone");
  EXPECT_TRUE(ending.return_to_drawer.empty());
}

}  // namespace
}  // namespace whichlink::testing
