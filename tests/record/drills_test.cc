#include "record/schema.h"
#include "support.h"

namespace whichlink::record {
namespace {

Drilled drilled(const std::string& trainee) {
  Drilled one;
  one.trainee = trainee;
  one.lesson = "listen first";
  one.drill_case = "a cord";
  one.seed = 1'000'000'000;
  one.ideal = 11.25;
  one.lost = 3.5;
  one.minutes = 7.4;
  one.moves = 3;
  one.told_nothing = 1;
  one.named_by_hint = 2;
  one.not_put_back = 4;
  one.unchecked = 5;
  one.blamed = 6;
  one.borrowed_left_in = true;
  one.left_in = true;
  one.losses = {{"splitting", 2.25}, {"listening", 1.25}};
  one.claims = {{"a cord", .75, .5, true, false}, {"a plug", .25, .125, false, true}};
  return one;
}

TEST_F(RecordTest, ADrillComesBackAsItWasPutIn) {
  Record record = open();
  EXPECT_EQ(must(record.add_drill(drilled("T1"), kMorning)), 1);
  EXPECT_EQ(must(record.add_drill(drilled("T2"), kNoon)), 2);
  const Record again = must(Record::open(path(), Access::read));
  const std::vector<Drilled> all = must(again.drills(""));
  ASSERT_EQ(all.size(), 2U);
  Drilled expected = drilled("T1");
  expected.number = 1;
  expected.at = kMorning;
  EXPECT_EQ(all.front(), expected);
  const std::vector<Drilled> one = must(again.drills("T2"));
  ASSERT_EQ(one.size(), 1U);
  EXPECT_EQ(one.front().trainee, "T2");
  EXPECT_TRUE(must(again.drills("T3")).empty());
}

// A claim that cannot be leaves nothing of its drill behind.
TEST_F(RecordTest, ADrillIsWrittenWholeOrNotAtAll) {
  Record record = open();
  Drilled bad = drilled("T1");
  bad.claims.back().sure = 1.5;
  EXPECT_NE(line_of(record.add_drill(bad, kMorning)), "");
  EXPECT_TRUE(must(record.drills("")).empty());
}

TEST_F(RecordTest, AFileWithoutDrillsIsBroughtForward) {
  {
    SQLite::Database old(path(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    bring_forward(old, 0, 2);
    EXPECT_FALSE(old.tableExists("drill"));
  }
  Record record = open();
  EXPECT_TRUE(must(record.drills("")).empty());
  EXPECT_EQ(must(record.add_drill(drilled("T1"), kMorning)), 1);
}

// Drills are on invented rooms: no real one is watched for them.
TEST_F(RecordTest, ADrillSaysNothingOfARoom) {
  Record record = open();
  must(record.add_drill(drilled("T1"), kMorning));
  EXPECT_FALSE(must(record.watched_from("One-room clinic, Harrow Lane practice")));
  EXPECT_TRUE(must(record.cases({})).empty());
}

}  // namespace
}  // namespace whichlink::record
