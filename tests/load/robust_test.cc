#include <gtest/gtest.h>

#include <algorithm>
#include <functional>

#include "base/random.h"
#include "load/load.h"
#include "load/placed_tree.h"
#include "load/support.h"

// Whatever the bytes: a value, or complaints that have a place.
namespace whichlink::load {
namespace {

const faults::Rules& doorbell() {
  static const faults::Rules kRules = rules_from(good("doorbell.yaml"), "rules").value();
  return kRules;
}

/// Nothing where the answer is as it should be, or what is wrong with it.
template <class Value>
std::string fault_of(const Result<Value>& answer) {
  if (answer) return "";
  if (answer.error().empty()) return "neither a value nor a complaint";
  if (!std::is_sorted(answer.error().begin(), answer.error().end())) return "not in order";
  for (const Problem& problem : answer.error()) {
    const std::string line = to_line(problem);
    if (problem.place.file != "f" || problem.place.line < 1 || problem.place.column < 1) {
      return "no place: " + line;
    }
    if (problem.what.empty() || line.find('\n') != std::string::npos) return "no line: " + line;
  }
  return "";
}

struct Reader {
  const char* file;
  std::function<std::string(const std::string&)> read;
};

const std::vector<Reader>& readers() {
  static const std::vector<Reader> kReaders{
      {"doorbell.yaml", [](const std::string& text) { return fault_of(rules_from(text, "f")); }},
      {"two-doors.yaml",
       [](const std::string& text) { return fault_of(installation_from(text, "f", doorbell())); }},
      {"two-doors.yaml",
       [](const std::string& text) { return fault_of(rules_name_in(text, "f")); }},
      {"heard.yaml", [](const std::string& text) { return fault_of(case_from(text, "f")); }}};
  return kReaders;
}

TEST(Robust, ATextCutAtAnyLengthIsReadOrComplainedOf) {
  for (const Reader& reader : readers()) {
    const std::string text = good(reader.file);
    ASSERT_FALSE(text.empty());
    for (std::size_t length = 0; length < text.size(); ++length) {
      ASSERT_EQ(reader.read(text.substr(0, length)), "") << reader.file << " cut at " << length;
    }
  }
}

TEST(Robust, FlippedBytesAreReadOrComplainedOf) {
  Random random(4711);
  const std::string signs = "[]{}:,-?&*!|>'\"%@`#\n\t .0123456789e~<=/\\";
  for (int round = 0; round < 20'000; ++round) {
    const Reader& reader = readers()[random.below(4)];
    std::string text = good(reader.file);
    for (std::uint32_t flips = 1 + random.below(3); flips > 0; --flips) {
      const std::size_t at = random.below(static_cast<std::uint32_t>(text.size()));
      text[at] = random.chance(.5) ? signs[random.below(static_cast<std::uint32_t>(signs.size()))]
                                   : static_cast<char>(random.below(256));
    }
    ASSERT_EQ(reader.read(text), "") << reader.file << "\n" << text;
  }
}

TEST(Robust, LinesLeftOutOrDoubledAreReadOrComplainedOf) {
  for (const Reader& reader : readers()) {
    const std::string text = good(reader.file);
    for (std::size_t start = 0; start < text.size(); start = text.find('\n', start) + 1) {
      const std::size_t length = text.find('\n', start) + 1 - start;
      ASSERT_EQ(reader.read(text.substr(0, start) + text.substr(start + length)), "");
      ASSERT_EQ(reader.read(text.substr(0, start + length) + text.substr(start)), "");
    }
  }
}

TEST(Robust, AMillionOpeningSignsAreComplainedOf) {
  for (const char* sign :
       {"[",   "{",     "- ", "? ",   "[{",    "{[",   "[a, ", "{a: ", "a: ", "-\n",
        "?\n", "\"",    "'",  "|\n",  "&a ",   "*a ",  "!",    "%",    ": ",  ",",
        "]",   "---\n", "é",  "-\n ", "a:\n ", "\r\n", "#",    ">"}) {
    std::string text;
    while (text.size() < 1'000'000) text += sign;
    const auto answer = case_from(text, "f");
    EXPECT_FALSE(answer.has_value()) << sign;
    EXPECT_EQ(fault_of(answer), "") << sign;
  }
}

TEST(Robust, NestingIsRefusedPastItsLimitAndNotBefore) {
  const auto nested = [](int depth) {
    const auto times = static_cast<std::size_t>(depth);
    return std::string(times, '[') + "1" + std::string(times, ']');
  };
  Complaints none("f");
  EXPECT_TRUE(tree_from(nested(kDeepestNesting), none).has_value());
  EXPECT_TRUE(none.empty());
  Complaints deep("f");
  EXPECT_FALSE(tree_from(nested(kDeepestNesting + 1), deep).has_value());
  ASSERT_EQ(deep.sorted().size(), 1U);
  EXPECT_EQ(to_line(deep.sorted()[0]), "f:1:33: nested too deep; expected at most 32 levels");
}

TEST(Robust, ATextIsRefusedPastItsLimitsAndNotBefore) {
  const std::string text = "complaint: {route: a, heard: b}\n#";
  const std::string filler(kLargestFileBytes - text.size(), 'x');
  EXPECT_TRUE(case_from(text + filler, "f").has_value());
  EXPECT_EQ(lines(case_from(text + filler + "x", "f")),
            std::vector<std::string>{"f:1:1: the file is too large; expected at most 8 MB"});

  std::string brackets = "a:\n";
  for (std::size_t count = 0; count < kMostBrackets; ++count) brackets += "- []\n";
  Complaints enough("f");
  EXPECT_TRUE(tree_from(brackets, enough).has_value());
  Complaints many("f");
  EXPECT_FALSE(tree_from(brackets + "- []\n", many).has_value());
  EXPECT_EQ(to_line(many.sorted().at(0)),
            "f:50002:3: too many brackets in one file; expected at most 50000");

  std::string items;
  for (std::size_t count = 1; count < kMostNodes; ++count) items += "- a\n";
  Complaints full("f");
  EXPECT_TRUE(tree_from(items, full).has_value());
  Complaints over("f");
  EXPECT_FALSE(tree_from(items + "- a\n", over).has_value());
  EXPECT_EQ(to_line(over.sorted().at(0)),
            "f:300000:3: too many values in one file; expected at most 300000");
}

TEST(Robust, AForeignFileBringsNoMoreComplaintsThanAPersonReads) {
  std::string text;
  for (int index = 0; index < 50'000; ++index) text += "key" + std::to_string(index) + ": x\n";
  EXPECT_EQ(lines(rules_from(text, "f")).size(), Complaints::kMost);
}

TEST(Robust, SmallFilesMakeNoHugeTables) {
  const auto many = [](const std::string& name, int count) {
    std::string names;
    for (int index = 0; index < count; ++index) {
      if (index > 0) names += ", ";
      names += name + std::to_string(index);
    }
    return names;
  };
  const std::string places = edited(good("two-doors.yaml"), "[hall, porch, loft]",
                                    "[hall, porch, " + many("place", 99) + "]");
  EXPECT_EQ(lines(installation_from(places, "f", doorbell())).front(),
            "f:8:895: too many places; expected at most 100");

  std::string text = edited(good("doorbell.yaml"), "{line: {class: wire, lanes: [red, blue]}}",
                            "{line: {class: wire, lanes: [red, blue, " + many("lane", 59) + "]}}");
  EXPECT_EQ(lines(rules_from(text, "f")).front(), "f:119:507: too many lanes; expected at most 60");

  // 60 lanes a part, as many parts as a file may name in one place: refused before it fills memory.
  text = edited(good("doorbell.yaml"), "{line: {class: wire, lanes: [red, blue]}}",
                "{line: {class: wire, lanes: [red, blue, " + many("lane", 58) + "]}}");
  const auto wide = rules_from(text, "f");
  ASSERT_TRUE(wide.has_value()) << lines(wide).front();
  std::string parts;
  for (int index = 0; index < 400; ++index) {
    parts += "    wide" + std::to_string(index) + ": twin line\n";
  }
  const std::string crowd = edited(good("two-doors.yaml"), "  porch:\n    button",
                                   "  loft:\n" + parts + "  porch:\n    button");
  const auto answer = installation_from(crowd, "f", *wide);
  ASSERT_FALSE(answer.has_value());
  EXPECT_EQ(std::count_if(answer.error().begin(), answer.error().end(),
                          [](const Problem& one) {
                            return one.what == "the installation has too many lanes in all";
                          }),
            1);
}

}  // namespace
}  // namespace whichlink::load
