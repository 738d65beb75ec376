#include "support.h"

namespace whichlink::record {
namespace {

CheckHead daily() {
  CheckHead head;
  head.installation = "Clinic";
  head.list = "daily";
  head.listener = "practised";
  return head;
}

TEST_F(RecordTest, CheckComesBackAsItWasEntered) {
  Record record = open();
  const Number one = must(record.begin_check(daily(), kMorning));
  must(record.add_check_answer(one, {"said", "wipe", "yes", "", {}, {}, kMorning}));
  must(record.add_check_answer(one, {"said", "left phone", "weak", "stressed", 15, {}, kMorning}));
  must(record.take_back_check_answer(one));
  const CheckAnswer level{"level", "left phone", "coupler", "", 1000, 77.5, kNoon};
  must(record.add_check_answer(one, level));
  must(record.set_results(one, {{"left phone", "passed", "", true}}, ""));
  EXPECT_EQ(must(record.last_open_check("Clinic")), one);
  EXPECT_EQ(must(record.last_open_check("Other")), std::nullopt);
  must(record.set_results(
      one, {{"left phone", "passed", "", true}, {"bone", "failed", "crackle", false}}, kNoon));
  EXPECT_EQ(must(record.last_open_check("Clinic")), std::nullopt);
  const CheckStory story = must(record.check_story_of(one));
  EXPECT_EQ(story.head.list, "daily");
  EXPECT_EQ(story.head.ended, kNoon);
  EXPECT_EQ(story.head.passed, 1U);
  EXPECT_EQ(story.head.failed, 1U);
  ASSERT_EQ(story.answers.size(), 2U);
  EXPECT_EQ(story.answers[1], level);
  ASSERT_EQ(story.routes.size(), 2U);
}

TEST_F(RecordTest, LastPassIsTheNewestOfChecksAndMendedCases) {
  Record record = open();
  const auto check = [&](const std::string& at, const std::string& result) {
    const Number one = must(record.begin_check(daily(), at));
    must(record.set_results(one, {{"left phone", result, "", true}}, at));
  };
  check("2026-11-01T08:00:00", "passed");
  check("2026-11-08T08:00:00", "passed");
  check("2026-11-15T08:00:00", "failed");
  check("2026-11-16T08:00:00", "not checked");
  EXPECT_EQ(must(record.last_pass("Clinic", "left phone")), "2026-11-08T08:00:00");
  const std::vector<RouteCheck> all = must(record.checks_of("Clinic", "left phone"));
  ASSERT_EQ(all.size(), 3U);
  EXPECT_EQ(all[2].result, "failed");
  EXPECT_TRUE(all[0].stressed);
  const Number one = must(record.begin_case("Clinic", events(), "2026-11-15T09:00:00"));
  CaseEnd end;
  end.ending = "mended";
  must(record.end_case(one, end, "2026-11-15T09:30:00"));
  EXPECT_EQ(must(record.last_pass("Clinic", "left phone")), "2026-11-15T09:30:00");
}

TEST_F(RecordTest, SessionsAreListedByDay) {
  Record record = open();
  must(record.add_sessions("Clinic",
                           {{"S2", "2026-11-02", {"left phone", "bone"}},
                            {"S1", "2026-11-01", {}},
                            {"S3", "2026-11-03", {"bone", "bone"}}},
                           kMorning));
  // The same code once more is a correction.
  must(record.add_sessions("Clinic", {{"S3", "2026-11-04", {"right phone"}}}, kMorning));
  must(record.add_sessions("Other", {{"S1", "2026-11-02", {"bone"}}}, kMorning));
  const std::vector<Session> all = must(record.sessions("Clinic", "2026-11-01", "2026-11-30"));
  ASSERT_EQ(all.size(), 3U);
  EXPECT_EQ(all[0].code, "S1");
  EXPECT_TRUE(all[0].routes.empty());
  EXPECT_EQ(all[1].routes, (std::vector<std::string>{"bone", "left phone"}));
  EXPECT_EQ(all[2].day, "2026-11-04");
  EXPECT_EQ(all[2].routes, std::vector<std::string>{"right phone"});
  EXPECT_EQ(must(record.sessions("Clinic", "2026-11-02", "2026-11-02")).size(), 1U);
}

TEST_F(RecordTest, InstallationIsWatchedFromItsFirstEntryOn) {
  Record record = open();
  must(record.begin_check(daily(), "2026-11-08T08:00:00"));
  EXPECT_EQ(must(record.watched_from("Clinic")), "2026-11-08T08:00:00");
  must(record.begin_check(daily(), "2026-11-09T08:00:00"));
  EXPECT_EQ(must(record.watched_from("Clinic")), "2026-11-08T08:00:00");
  must(record.begin_check(daily(), "2026-11-07T08:00:00"));  // entered later
  EXPECT_EQ(must(record.watched_from("Clinic")), "2026-11-07T08:00:00");
}

}  // namespace
}  // namespace whichlink::record
