#include <gtest/gtest.h>

#include "base/random.h"
#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

void expect_same(const guide::CaseFile& one, const guide::CaseFile& other) {
  EXPECT_EQ(one.model, other.model);
  EXPECT_EQ(one.listener, other.listener);
  EXPECT_EQ(one.aim, other.aim);
  EXPECT_EQ(one.route, other.route);
  EXPECT_EQ(one.complaint.heard, other.complaint.heard);
  EXPECT_EQ(one.complaint.drop_db, other.complaint.drop_db);
  EXPECT_EQ(one.days_since_pass, other.days_since_pass);
  ASSERT_EQ(one.done.size(), other.done.size());
  for (std::size_t index = 0; index < one.done.size(); ++index) {
    EXPECT_EQ(one.done[index].move, other.done[index].move);
    EXPECT_EQ(one.done[index].report.heard, other.done[index].report.heard);
    EXPECT_EQ(one.done[index].report.drop_db, other.done[index].report.drop_db);
  }
}

TEST(Case, IsReadWithThePlacesOfItsNames) {
  const auto events = case_from(good("heard.yaml"), "f");
  ASSERT_TRUE(events.has_value());
  EXPECT_EQ(events->model, "two-doors");
  EXPECT_EQ(events->listener, "practised");
  EXPECT_EQ(events->listener_place, (Place{"f", 2, 11}));
  EXPECT_EQ(events->route, "left door");
  EXPECT_EQ(events->route_place, (Place{"f", 3, 20}));
  EXPECT_EQ(events->complaint.heard, "silent");
  EXPECT_EQ(events->complaint_place, (Place{"f", 3, 38}));
  EXPECT_EQ(events->days_since_pass, 7);
  ASSERT_EQ(events->done.size(), 3U);
  EXPECT_EQ(events->done[1].move, "flex left cord.wire");
  EXPECT_EQ(events->done[1].place, (Place{"f", 6, 12}));
  EXPECT_EQ(events->done[1].report.heard, "faint");
  EXPECT_EQ(events->done[1].report.drop_db, 30);
  EXPECT_EQ(events->done[2].report.drop_db, std::nullopt);
}

TEST(Case, NeedsOnlyItsComplaint) {
  const auto events = case_from("complaint: {route: a, heard: b}\ndone:\n", "f");
  ASSERT_TRUE(events.has_value());
  EXPECT_EQ(events->model, "");
  EXPECT_EQ(events->listener_place, Place{});
  EXPECT_EQ(events->days_since_pass, std::nullopt);
  EXPECT_TRUE(events->done.empty());
}

TEST(Case, IsWrittenForPeopleToRead) {
  const auto events = case_from(good("heard.yaml"), "f");
  EXPECT_EQ(to_text(events.value()), good("heard.yaml"));
}

TEST(Case, QuotesWhatYamlWouldTakeForSomethingElse) {
  guide::CaseFile events;
  events.route = "true";
  events.complaint.heard = "a: b # c";
  events.done.push_back({"say \"no\" \\ yes", {"~", .1}, {}});
  EXPECT_EQ(to_text(events),
            "complaint: {route: \"true\", heard: \"a: b # c\"}\n"
            "done:\n"
            "  - {move: \"say \\\"no\\\" \\\\ yes\", heard: \"~\", drop db: 0.1}\n");
}

std::string random_name(Random& random) {
  static const std::vector<std::string> kPieces{"a",
                                                "Z",
                                                "0",
                                                "7",
                                                " ",
                                                ": ",
                                                "#",
                                                " #",
                                                "\"",
                                                "'",
                                                "\\",
                                                "\\n",
                                                "{",
                                                "}",
                                                "[",
                                                "]",
                                                ",",
                                                "&",
                                                "*",
                                                "!",
                                                "|",
                                                ">",
                                                "%",
                                                "@",
                                                "`",
                                                "-",
                                                "- ",
                                                "? ",
                                                "null",
                                                "true",
                                                "no",
                                                "~",
                                                "1e-3",
                                                ".5",
                                                "\xc3\xa9",
                                                "\xe2\x82\xac",
                                                "\xf0\x9f\x94\x94",
                                                ".",
                                                "left door",
                                                "---",
                                                "..."};
  std::string name;
  const std::uint32_t count = 1 + random.below(6);
  for (std::uint32_t index = 0; index < count; ++index) {
    name += kPieces[random.below(static_cast<std::uint32_t>(kPieces.size()))];
  }
  return name;
}

guide::Report random_report(Random& random) {
  guide::Report report{random_name(random), std::nullopt};
  if (random.chance(.5)) report.drop_db = 120 * (1 - random.uniform());
  return report;
}

TEST(Case, IsReadBackAsItWasWritten) {
  Random random(20240601);
  for (int round = 0; round < 2000; ++round) {
    guide::CaseFile events;
    if (random.chance(.5)) events.model = random_name(random);
    if (random.chance(.5)) events.listener = random_name(random);
    if (random.chance(.5)) events.aim = static_cast<plan::Aim>(random.below(3));
    events.route = random_name(random);
    events.complaint = random_report(random);
    if (random.chance(.5)) events.days_since_pass = 36'500 * random.uniform();
    for (std::uint32_t left = random.below(5); left > 0; --left) {
      events.done.push_back({random_name(random), random_report(random), {}});
    }
    const std::string text = to_text(events);
    const auto read = case_from(text, "f");
    ASSERT_TRUE(read.has_value()) << text << lines(read).front();
    expect_same(*read, events);
    if (HasFailure()) FAIL() << text;
  }
}

}  // namespace
}  // namespace whichlink::load
