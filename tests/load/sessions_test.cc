#include <gtest/gtest.h>

#include "load/load.h"

namespace whichlink::load {
namespace {

chain::Chain two_routes() {
  chain::Chain chain;
  chain::Route route;
  for (const char* name : {"left", "bone"}) {
    route.name = name;
    chain.routes.add(route);
  }
  return chain;
}

std::string line_of(const std::string& text) {
  const auto sessions = sessions_from(text, two_routes(), "f");
  return sessions ? "" : to_line(sessions.error().front());
}

TEST(Sessions, AreReadWithOrWithoutAHeading) {
  const auto sessions =
      sessions_from("code,day,routes\r\nA1, 2026-11-16 ,left; bone\r\n\r\nB-2,2024-02-29,bone",
                    two_routes(), "f");
  ASSERT_TRUE(sessions);
  ASSERT_EQ(sessions->size(), 2U);
  EXPECT_EQ((*sessions)[0].code, "A1");
  EXPECT_EQ((*sessions)[0].day, "2026-11-16");
  EXPECT_EQ((*sessions)[0].routes, (std::vector<std::string>{"left", "bone"}));
  EXPECT_EQ((*sessions)[1].code, "B-2");
}

TEST(Sessions, WhatIsWrongIsSaidWithItsLine) {
  EXPECT_EQ(line_of("A1,2026-11-16,left\nA2,2026-11-31,left\n"),
            "f:2:1: \"2026-11-31\" is no day; expected one as 2026-11-26");
  EXPECT_EQ(line_of("A1,2026-11-16\n"),
            "f:1:1: 2 fields; expected three: code,day,routes (routes parted by semicolons)");
  EXPECT_EQ(line_of("A1,2026-11-16,lefft\n"),
            "f:1:1: unknown route \"lefft\"; expected left or bone (did you mean \"left\"?)");
  EXPECT_EQ(line_of("A1,2026-11-16,left\nA1,2026-11-17,left\n"),
            "f:2:1: session A1 stands here twice; expected each code once");
  EXPECT_EQ(line_of(""), "f:1:1: no session; expected lines as code,day,routes");
}

// Names and dates of birth have no place.
TEST(Sessions, CodesThatMayBeAPersonAreRefused) {
  for (const std::string code :
       {"Mueller", "Anna B", "1961-04-02", "02-04-61", "19610402", "020461", "2-4-1961", "A1.2",
        "A1;", "", "-", "ABCDEFGHIJKLMNOPQRSTUVWX1"}) {
    EXPECT_NE(line_of(code + ",2026-11-16,left\n").find("is no session code"), std::string::npos)
        << code;
  }
  for (const std::string code : {"A1", "7", "2026A17", "r-2026-17", "ABCDEFGHIJKLMNOPQRSTUVW1"}) {
    EXPECT_EQ(line_of(code + ",2026-11-16,left\n"), "") << code;
  }
}

}  // namespace
}  // namespace whichlink::load
