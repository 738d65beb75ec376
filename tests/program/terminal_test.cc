#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "program/seat.h"
#include "render/text.h"

namespace whichlink::testing {
namespace {

namespace fs = std::filesystem;

/// A folder of the test's own.
class Terminal : public ::testing::Test {
 protected:
  Terminal()
      : folder_((fs::temp_directory_path() / ("whichlink-program-" + std::to_string(::getpid())))
                    .string()) {
    fs::remove_all(folder_);
    fs::create_directories(folder_);
  }
  ~Terminal() override {
    std::error_code none;
    fs::remove_all(folder_, none);
  }

  [[nodiscard]] std::string file(const std::string& name) const { return folder_ + "/" + name; }
  [[nodiscard]] Told typed(const std::vector<std::string>& words, const std::string& keys) const {
    return run({words, keys, Way::terminal, true, file("home")});
  }
  /// On an empty record.
  [[nodiscard]] Told isolate(const std::string& keys) const {
    fs::remove_all(file("home"));
    return typed({"isolate", "--model", "screening-set", "--think", "0"}, keys);
  }

 private:
  std::string folder_;
};

std::size_t times(const std::string& text, const std::string& words) {
  std::size_t count = 0;
  for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1)) {
    ++count;
  }
  return count;
}

std::string text_of(const std::string& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

TEST_F(Terminal, AKnownKeyAnswersAtOnce) {
  const Told told = isolate("1cq");  // a route, a complaint, put aside
  EXPECT_EQ(told.code, 0) << told.err;
  EXPECT_EQ(times(told.out, "> "), 3U) << told.out;
  EXPECT_NE(told.out.find("Go on later with: whichlink isolate --resume 1"), std::string::npos);
}

TEST_F(Terminal, ABadAnswerIsAskedForAgain) {
  const Told told = isolate("nowhere\n1cq");
  EXPECT_EQ(told.code, 0) << told.err;
  EXPECT_NE(told.out.find("answer 1: no route \"nowhere\""), std::string::npos) << told.out;
}

TEST_F(Terminal, ALetterOfTwoBytesIsErasedWhole) {
  const Told told = isolate("n\xc3\xbc\x7f\x7fleft phone\ncq");
  EXPECT_EQ(told.out.find("no route"), std::string::npos) << told.out;
  EXPECT_EQ(told.code, 0) << told.err;
}

TEST_F(Terminal, AnArrowKeyIsNoAnswer) {
  EXPECT_EQ(isolate("\x1b[A1\x1bOPcq").out, isolate("1cq").out);
}

TEST_F(Terminal, EndOfInputPutsTheCaseAside) {
  EXPECT_EQ(isolate("1c\x04sss").out, isolate("1c").out);
  EXPECT_NE(isolate("1c").out.find("Go on later with: "), std::string::npos);
}

// In a file of answers a line with # in front is a note.
TEST_F(Terminal, NoAnswerOfTheFormIsLostWhenItIsKept) {
  const std::string out = file("room.yaml");
  const std::vector<std::string> words{"new", "--rules", "hearing", "--out", out};
  const Told told = typed(words, "# 4\nq\n");
  EXPECT_EQ(told.code, 0) << told.err;
  const std::string kept = text_of(out + ".answers");
  std::vector<std::string> again = words;
  again.emplace_back("--resume");
  const Told gone_on = typed(again, "q\n");
  EXPECT_EQ(gone_on.code, 0) << gone_on.err;
  EXPECT_EQ(text_of(out + ".answers"), kept);
}

TEST_F(Terminal, NoQuestionIsWiderThanTheScreen) {
  constexpr std::size_t kWidest = 80;
  std::size_t seen = 0;
  for (const char* model : {"screening-set", "single-room", "small-stage", "two-room-booth"}) {
    const std::string rules = std::string(WHICHLINK_SOURCE_DIR) + "/rules";
    const auto room = installation_read_once(
        std::string(WHICHLINK_SOURCE_DIR) + "/models/" + model + ".yaml", rules);
    ASSERT_TRUE(room.has_value());
    for (const chain::Route& route : room->chain.routes) {
      const Told told =
          run({{"isolate", "--model", model}, route.name + "\n", Way::pipe, true, file("home")});
      std::istringstream lines(told.out);
      for (std::string line; std::getline(lines, line); ++seen) {
        EXPECT_LE(render::columns(line), kWidest) << line;
      }
    }
  }
  EXPECT_GT(seen, 100U);
}

TEST_F(Terminal, WithoutATerminalABadAnswerEndsTheRun) {
  const Told told =
      run({{"isolate", "--model", "screening-set"}, "nowhere\n1\n", Way::pipe, true, file("home")});
  EXPECT_EQ(told.code, 2);
  EXPECT_EQ(told.err.rfind("standard input:1:1: no route \"nowhere\"; expected ", 0), 0U);
  EXPECT_EQ(std::count(told.err.begin(), told.err.end(), '\n'), 1);
}

}  // namespace
}  // namespace whichlink::testing
