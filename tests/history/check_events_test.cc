#include "history/check_events.h"

#include <gtest/gtest.h>

#include "guide/support.h"

namespace whichlink::history {
namespace {

TEST(CheckEvents, ComeBackAsTheyWere) {
  const std::vector<routine::Event> events = {
      routine::Said{"wear", {"yes", std::nullopt}, std::nullopt, {}},
      routine::Said{"listen to bone", {"weak", 15.0}, routine::When::stressed, {}},
      routine::Said{"listen to bone", {"crackle", std::nullopt}, routine::When::untouched, {}},
      routine::Said{"listen to bone", {"crackle", std::nullopt}, routine::When::not_sure, {}},
      routine::Read{"bone", "bone on mastoid", 1000, 82.5, {}},
      routine::Isolated{"bone", guide::Stage::mended, {}},
      routine::Isolated{"bone", guide::Stage::under_way, {}}};
  for (const routine::Event& event : events) {
    const record::CheckAnswer answer = answer_of(event);
    const auto back = event_of(answer, {});
    ASSERT_TRUE(back) << answer.kind;
    EXPECT_EQ(back->index(), event.index());
    EXPECT_EQ(answer_of(*back), answer);
  }
  const auto said = std::get<routine::Said>(*event_of(answer_of(events[1]), {}));
  EXPECT_EQ(said.report.drop_db, 15.0);
  EXPECT_EQ(said.when, routine::When::stressed);
  const auto read = std::get<routine::Read>(*event_of(answer_of(events[4]), {}));
  EXPECT_EQ(read.hz, 1000);
  EXPECT_EQ(read.measured_db, 82.5);
}

TEST(CheckEvents, WhatNoCheckWritesIsAProblem) {
  EXPECT_FALSE(event_of({"sung", "bone", "", "", {}, {}, ""}, {}));
  EXPECT_FALSE(event_of({"level", "bone", "", "", 1000, {}, ""}, {}));
  EXPECT_FALSE(event_of({"isolated", "bone", "someday", "", {}, {}, ""}, {}));
  EXPECT_FALSE(event_of({"said", "bone", "steady", "yesterday", {}, {}, ""}, {}));
}

}  // namespace
}  // namespace whichlink::history
