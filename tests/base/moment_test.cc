#include "base/moment.h"

#include <gtest/gtest.h>

namespace whichlink {
namespace {

// ISO 8601 gives the form. Day numbers: 2000-01-01 is day 10957 of the Unix count (POSIX: 946684800
// seconds), 2026-11-26 was reckoned by `date -ud 2026-11-26 +%s` / 86400 = 20783.
TEST(Moments, CountDaysFrom1970) {
  EXPECT_EQ(moment_from("1970-01-01")->days, 0);
  EXPECT_EQ(moment_from("2000-01-01")->days, 10957);
  EXPECT_EQ(moment_from("2026-11-26")->days, 20783);
  EXPECT_DOUBLE_EQ(moment_from("2026-11-26T06:00")->days, 20783.25);
  EXPECT_DOUBLE_EQ(moment_from("2026-11-26T23:59:59")->days, 20784 - 1.0 / 86400);
}

TEST(Moments, LeapDaysAreThereAndNoOthers) {
  EXPECT_TRUE(moment_from("2024-02-29"));
  EXPECT_TRUE(moment_from("2000-02-29"));
  EXPECT_FALSE(moment_from("2026-02-29"));
  EXPECT_FALSE(moment_from("2100-02-29"));
}

TEST(Moments, WhatIsNoDayIsRefused) {
  for (const std::string text :
       {"", "2026", "2026-13-01", "2026-00-10", "2026-11-31", "26-11-2026", "2026-11-26T",
        "2026-11-26T24:00", "2026-11-26T10:60", "2026-11-26T10:00:60", "2026-11-26 10:00",
        "2026-11-26T10:00:00Z", "2026-1-2", "1969-12-31", "2026-11-2x", "+026-11-26"}) {
    EXPECT_FALSE(moment_from(text)) << text;
  }
}

TEST(Moments, DayTextIsTheWayBack) {
  for (const std::string day : {"1970-01-01", "2024-02-29", "2026-11-26", "2099-12-31"}) {
    EXPECT_EQ(day_text(moment_from(day)->days), day);
    EXPECT_EQ(day_text(moment_from(day + "T23:59")->days), day);
    EXPECT_EQ(day_of(day + "T23:59"), day);
  }
}

}  // namespace
}  // namespace whichlink
