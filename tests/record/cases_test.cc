#include <cmath>

#include "support.h"

namespace whichlink::record {
namespace {

CaseEnd mended(double cord, double plug) {
  CaseEnd end;
  end.ending = "mended";
  end.minutes = 4.5;
  end.causes = {{"cord: broken conductor", "headset cord.left", "a broken conductor", cord},
                {"plug: tarnish", "plug.left", "tarnish on 100% of _it_", plug},
                {"plug: tarnish", "plug.right", "tarnish on the other", plug / 2}};
  end.repairs = {"put spare cord in for headset cord"};
  end.parts = {{"headset cord", "spare cord", "headset cord"}};
  end.thrown_out = {{"headset cord", "headset cord"}, {"earphone", "drawer earphone"}};
  return end;
}

TEST_F(RecordTest, CaseComesBackAsItWasEntered) {
  Record record = open();
  const Number one = must(record.begin_case("Clinic", events(), kMorning));
  must(record.add_answer(one, 0, done("listen", "steady"), kMorning));
  must(record.add_answer(one, 1, {"flex cord", {"weak", 12.5}, {}}, kNoon));
  const guide::CaseFile back = must(record.events_of(one));
  EXPECT_EQ(back.model, "two-room-booth");
  EXPECT_EQ(back.route, "left phone");
  EXPECT_EQ(back.complaint.heard, "weak");
  EXPECT_EQ(back.complaint.drop_db, 25.0);
  EXPECT_EQ(back.days_since_pass, 3.5);
  EXPECT_EQ(back.aim, plan::Aim::split);
  EXPECT_EQ(back.listener, "new");
  ASSERT_EQ(back.done.size(), 2U);
  EXPECT_EQ(back.done[0].move, "listen");
  EXPECT_FALSE(back.done[0].report.drop_db);
  EXPECT_EQ(back.done[1].report.drop_db, 12.5);
}

TEST_F(RecordTest, WhatWasTakenBackStaysInTheStory) {
  Record record = open();
  const Number one = must(record.begin_case("Clinic", events(), kMorning));
  must(record.add_answer(one, 0, done("listen", "steady"), kMorning));
  must(record.take_back(one, 1, kNoon));
  must(record.add_answer(one, 0, done("listen", "silent"), kNoon));
  ASSERT_EQ(must(record.events_of(one)).done.size(), 1U);
  EXPECT_EQ(must(record.events_of(one)).done[0].report.heard, "silent");
  const CaseStory story = must(record.story_of(one));
  ASSERT_EQ(story.answers.size(), 2U);
  EXPECT_TRUE(story.answers[0].taken_back);
  EXPECT_FALSE(story.answers[1].taken_back);
  EXPECT_EQ(story.head.answers, 1U);
}

TEST_F(RecordTest, TwoPeopleAtOneCaseAreTold) {
  Record first = open();
  Record second = open();
  const Number one = must(first.begin_case("Clinic", events(), kMorning));
  must(first.add_answer(one, 0, done("listen", "steady"), kMorning));
  const std::string line = line_of(second.add_answer(one, 0, done("listen", "silent"), kMorning));
  EXPECT_NE(line.find("was gone on with elsewhere"), std::string::npos) << line;
  EXPECT_NE(line_of(second.take_back(one, 0, kMorning)), "");
  EXPECT_EQ(must(first.events_of(one)).done.size(), 1U);
  must(first.end_case(one, mended(.9, .1), kNoon));
  EXPECT_NE(line_of(second.add_answer(one, 1, done("listen", "silent"), kNoon)), "")
      << "an ended case takes no more answers";
}

TEST_F(RecordTest, EndedCaseIsToldWhole) {
  Record record = open();
  const Number one = must(record.begin_case("Clinic", events(), kMorning));
  EXPECT_EQ(must(record.last_open_case()), one);
  EXPECT_TRUE(must(record.end_case(one, mended(.9, .1), kNoon)));
  EXPECT_EQ(must(record.last_open_case()), std::nullopt);
  const CaseStory story = must(record.story_of(one));
  EXPECT_EQ(story.head.ending, "mended");
  EXPECT_EQ(story.head.opened, kMorning);
  EXPECT_EQ(story.head.ended, kNoon);
  EXPECT_EQ(story.head.likeliest_cause, "a broken conductor");
  EXPECT_EQ(story.end.minutes, 4.5);
  ASSERT_EQ(story.end.causes.size(), 3U);
  EXPECT_EQ(story.end.causes[0].chance, .9);
  EXPECT_EQ(story.end.repairs, std::vector<std::string>{"put spare cord in for headset cord"});
  ASSERT_EQ(story.end.parts.size(), 1U);
  EXPECT_EQ(story.end.parts[0].instead_of, "headset cord");
  ASSERT_EQ(story.end.thrown_out.size(), 2U);
  EXPECT_EQ(story.end.thrown_out[1].kind, "earphone");
  EXPECT_EQ(story.end.thrown_out[1].name, "drawer earphone");
  EXPECT_EQ(must(record.last_pass("Clinic", "left phone")), kNoon);
  EXPECT_EQ(must(record.last_pass("Clinic", "right phone")), std::nullopt);
  EXPECT_EQ(must(record.last_ended_case("Clinic", "2026-11-26")), one);
  EXPECT_EQ(must(record.last_ended_case("Clinic", "2026-11-25")), std::nullopt);
}

// The sums are kept up as cases end; the other way is to add the causes of all stories.
TEST_F(RecordTest, CountsOfModesAreTheSumsOfAllCauses) {
  Record record = open();
  std::map<std::string, double> sums;
  std::map<std::string, std::size_t> cases;
  for (int index = 1; index <= 20; ++index) {
    const Number one = must(record.begin_case("Clinic", events(), kMorning));
    must(record.end_case(one, mended(1.0 / index, .02 * index), kNoon));
    // Ending it once more changes nothing.
    EXPECT_FALSE(must(record.end_case(one, mended(1, 1), kNoon)));
  }
  const Number other = must(record.begin_case("Other", events(), kMorning));
  must(record.end_case(other, mended(1, 1), kNoon));
  for (const CaseHead& head : must(record.cases({"Clinic", "", "", "", "", "", 0}))) {
    std::set<std::string> named;
    for (const Cause& cause : must(record.story_of(head.number)).end.causes) {
      sums[cause.mode] += cause.chance;
      named.insert(cause.mode);
    }
    for (const std::string& mode : named) ++cases[mode];
  }
  const std::vector<ModeCount> counts = must(record.mode_counts("Clinic"));
  ASSERT_EQ(counts.size(), 2U);
  for (const ModeCount& count : counts) {
    EXPECT_NEAR(count.faults, sums[count.mode], 1e-12) << count.mode;
    EXPECT_EQ(count.cases, cases[count.mode]);
  }
  EXPECT_NEAR(counts[1].faults, .02 * 210 * 1.5, 1e-12);  // 1 + ... + 20 = 210
}

TEST_F(RecordTest, FiltersNarrow) {
  Record record = open();
  guide::CaseFile right = events();
  right.route = "right phone";
  const Number a = must(record.begin_case("Clinic", events(), "2026-11-24T10:00:00"));
  const Number b = must(record.begin_case("Clinic", right, "2026-11-25T10:00:00"));
  const Number c = must(record.begin_case("Other", events(), "2026-11-26T23:59:59"));
  must(record.end_case(a, mended(.9, .1), "2026-11-24T11:00:00"));
  const auto numbers = [&](const Filter& filter) {
    std::vector<Number> found;
    for (const CaseHead& head : must(record.cases(filter))) found.push_back(head.number);
    return found;
  };
  using Numbers = std::vector<Number>;
  EXPECT_EQ(numbers({}), (Numbers{c, b, a})) << "newest first";
  EXPECT_EQ(numbers({"Clinic", "", "", "", "", "", 0}), (Numbers{b, a}));
  EXPECT_EQ(numbers({"", "left phone", "", "", "", "", 0}), (Numbers{c, a}));
  EXPECT_EQ(numbers({"", "", "open", "", "", "", 0}), (Numbers{c, b}));
  EXPECT_EQ(numbers({"", "", "", "2026-11-25", "", "", 0}), (Numbers{c, b}));
  EXPECT_EQ(numbers({"", "", "", "", "2026-11-25", "", 0}), (Numbers{b, a}));
  EXPECT_EQ(numbers({"", "", "", "2026-11-26", "2026-11-26", "", 0}), (Numbers{c}));
  EXPECT_EQ(numbers({"", "", "", "", "", "broken", 0}), (Numbers{a}));
  EXPECT_EQ(numbers({"", "", "", "", "", "100% of _it", 0}), (Numbers{a}));
  EXPECT_EQ(numbers({"", "", "", "", "", "0_ of", 0}), (Numbers{})) << "no wildcards";
  EXPECT_EQ(numbers({"", "", "", "", "", "", 2}), (Numbers{c, b}));
  EXPECT_EQ(numbers({"x' OR 1 --", "", "", "", "", "", 0}), (Numbers{}));
}

TEST_F(RecordTest, WhatIsNotThereIsSaid) {
  Record record = open();
  EXPECT_NE(line_of(record.events_of(7)).find("has no case 7"), std::string::npos);
  EXPECT_NE(line_of(record.story_of(7)).find("has no case 7"), std::string::npos);
  EXPECT_NE(line_of(record.check_story_of(7)).find("has no check 7"), std::string::npos);
  EXPECT_EQ(must(record.watched_from("Clinic")), std::nullopt);
  EXPECT_TRUE(must(record.mode_counts("Clinic")).empty());
}

TEST_F(RecordTest, PartsThatAreGoneAreThoseUsedAndThoseThrownOut) {
  Record record = open();
  const Number one = must(record.begin_case("Clinic", events(), kMorning));
  must(record.end_case(one, mended(.8, .1), kNoon));
  must(record.begin_case("Elsewhere", events(), kMorning));
  const std::vector<GonePart> gone = must(record.gone_parts("Clinic"));
  ASSERT_EQ(gone.size(), 3U);
  EXPECT_EQ(gone[0].name, "spare cord");
  EXPECT_FALSE(gone[0].thrown_out);
  EXPECT_EQ(gone[0].isolation, one);
  EXPECT_EQ(gone[0].at, kNoon);
  EXPECT_EQ(gone[1].name, "drawer earphone");
  EXPECT_TRUE(gone[1].thrown_out);
  EXPECT_EQ(gone[2].name, "headset cord");
  EXPECT_TRUE(must(record.gone_parts("Elsewhere")).empty());
}

}  // namespace
}  // namespace whichlink::record
