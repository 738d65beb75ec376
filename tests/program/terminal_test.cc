#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>

#include "program/seat.h"

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

TEST_F(Terminal, WithoutATerminalABadAnswerEndsTheRun) {
  const Told told =
      run({{"isolate", "--model", "screening-set"}, "nowhere\n1\n", Way::pipe, true, file("home")});
  EXPECT_EQ(told.code, 2);
  EXPECT_EQ(told.err.rfind("standard input:1:1: no route \"nowhere\"; expected ", 0), 0U);
  EXPECT_EQ(std::count(told.err.begin(), told.err.end(), '\n'), 1);
}

}  // namespace
}  // namespace whichlink::testing
