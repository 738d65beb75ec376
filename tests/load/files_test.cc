#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

const std::string kGood = std::string(WHICHLINK_SOURCE_DIR) + "/tests/load/good";

/// A folder of its own for each test, gone with it.
class Files : public ::testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = ::testing::TempDir() + "/whichlink-load-XXXXXX";
    ASSERT_NE(mkdtemp(pattern.data()), nullptr);
    folder = pattern;
  }
  void TearDown() override { std::filesystem::remove_all(folder); }
  std::string write(const std::string& name, const std::string& text) const {
    std::ofstream(folder + "/" + name, std::ios::binary) << text;
    return folder + "/" + name;
  }
  std::string folder;
};

TEST_F(Files, AreReadToTheLastByte) {
  const std::string text("a\0b\r\n\xff", 6);
  EXPECT_EQ(read_file(write("bytes", text)).value(), text);
  EXPECT_EQ(read_file(write("empty", "")).value(), "");
}

TEST_F(Files, ThatAreNotThereAreComplainedOf) {
  EXPECT_EQ(lines(read_file(folder + "/none.yaml")),
            std::vector<std::string>{folder + "/none.yaml: there is no such file; expected a file "
                                              "that can be read"});
  EXPECT_EQ(lines(case_file(folder + "/none.yaml")).size(), 1U);
  EXPECT_EQ(lines(installation_file(folder + "/none.yaml", kGood)).size(), 1U);
}

TEST_F(Files, ThatAreFoldersAreComplainedOf) {
  EXPECT_EQ(
      lines(read_file(folder)),
      std::vector<std::string>{folder + ": this is a folder; expected a file that can be read"});
}

TEST_F(Files, LargerThanTheLimitAreComplainedOf) {
  EXPECT_TRUE(read_file(write("large", std::string(kLargestFileBytes, '#'))).has_value());
  EXPECT_EQ(
      lines(read_file(write("larger", std::string(kLargestFileBytes + 1, '#')))),
      std::vector<std::string>{folder + "/larger: the file is too large; expected at most 8 MB"});
}

TEST_F(Files, AnInstallationBringsItsRules) {
  const auto doors = installation_file(kGood + "/two-doors.yaml", kGood);
  ASSERT_EQ(lines(doors), std::vector<std::string>{});
  EXPECT_EQ(doors->rules.trade, "doorbells");
  EXPECT_EQ(doors->name, "Two doors");
}

TEST_F(Files, RulesThatAreNotThereAreComplainedOfWhereTheyAreNamed) {
  const std::string file = kGood + "/two-doors.yaml";
  EXPECT_EQ(lines(installation_file(file, folder)),
            std::vector<std::string>{file + ":4:8: the rules cannot be read from " + folder +
                                     "/doorbell.yaml: there is no such file; expected the name of "
                                     "a file of rules"});
}

TEST_F(Files, WrongRulesAreComplainedOfInTheirOwnFile) {
  const std::string rules =
      write("doorbell.yaml", edited(good("doorbell.yaml"), "trade: doorbells", "trade:"));
  EXPECT_EQ(lines(installation_file(kGood + "/two-doors.yaml", folder)),
            std::vector<std::string>{rules + ":2:1: no value; expected a text"});
}

TEST_F(Files, ACaseIsReadFromItsFile) {
  EXPECT_EQ(case_file(kGood + "/heard.yaml").value().route, "left door");
}

TEST_F(Files, EveryInstallationOfTheRepositoryIsGood) {
  const std::string root = WHICHLINK_SOURCE_DIR;
  int seen = 0;
  for (const auto& entry : std::filesystem::directory_iterator(root + "/models")) {
    if (entry.path().extension() != ".yaml") continue;
    ++seen;
    EXPECT_EQ(lines(installation_file(entry.path().string(), root + "/rules")),
              std::vector<std::string>{});
  }
  EXPECT_GE(seen, 1);
}

TEST_F(Files, EveryFileOfRulesInTheRepositoryIsGood) {
  int seen = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(WHICHLINK_SOURCE_DIR) + "/rules")) {
    if (entry.path().extension() != ".yaml") continue;
    ++seen;
    const auto text = read_file(entry.path().string());
    ASSERT_TRUE(text.has_value());
    EXPECT_EQ(lines(rules_from(*text, entry.path().string())), std::vector<std::string>{});
  }
  EXPECT_GE(seen, 1);
}

}  // namespace
}  // namespace whichlink::load
