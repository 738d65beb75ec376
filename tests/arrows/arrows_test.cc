#include "arrows.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <set>

namespace whichlink::arrows {
namespace {

namespace fs = std::filesystem;
using Lines = std::vector<std::string>;

const Table& built() {
  static const Table table = table_from(WHICHLINK_ARROWS);
  return table;
}

Table sample() {
  return table_from("base: chain:base upkeep:base load:chain,base render:base");
}

Lines in_engine(const std::string& room, const std::string& text) {
  return complaints("engine/" + room + "/a.cc", text, sample());
}

std::string whole(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  EXPECT_TRUE(stream.good()) << path;
  return {std::istreambuf_iterator<char>(stream), {}};
}

/// Every C++ file below these folders of the repository, as its relative name.
Lines sources(const std::vector<std::string>& folders) {
  const fs::path root = WHICHLINK_SOURCE_DIR;
  Lines files;
  for (const std::string& folder : folders) {
    for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
      const std::string end = entry.path().extension().string();
      if (end == ".h" || end == ".cc") {
        files.push_back(entry.path().lexically_relative(root).generic_string());
      }
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

TEST(Arrows, EverySourceKeepsThem) {
  const Lines files = sources({"engine", "cli", "tests"});
  std::cout << "arrows: " << files.size() << " source files, " << built().size() << " rooms seen\n";
  ASSERT_GT(files.size(), 20U) << "the sources were not found";
  for (const std::string& file : files) {
    const std::string text = whole(fs::path(WHICHLINK_SOURCE_DIR) / file);
    for (const std::string& complaint : complaints(file, text, built())) {
      ADD_FAILURE() << complaint;
    }
  }
}

TEST(Arrows, EveryRoomHasARowAndEveryRowARoom) {
  std::set<std::string> rooms;
  for (const auto& entry : fs::directory_iterator(fs::path(WHICHLINK_SOURCE_DIR) / "engine")) {
    if (entry.is_directory()) rooms.insert(entry.path().filename().string());
  }
  std::set<std::string> rows;
  for (const auto& [room, uses] : built()) rows.insert(room);
  EXPECT_EQ(rooms, rows);
}

TEST(Arrows, TableHasNoLoop) {
  EXPECT_EQ(loops_in(built()), Lines{});
  EXPECT_EQ(loops_in(table_from("a:b b:c c:a")).size(), 3U);
  EXPECT_EQ(loops_in(table_from("a:a")), Lines{"a leads back to itself"});
  EXPECT_EQ(loops_in(table_from("a:z")), Lines{"a names an unknown room: z"});
}

TEST(Arrows, SidewaysAndUpwardIncludesAreRefused) {
  EXPECT_EQ(in_engine("render", "#include \"chain/chain.h\"\n"),
            Lines{"engine/render/a.cc:1: room render may not include from chain"});
  EXPECT_EQ(in_engine("base", "\n  #  include \"load/load.h\"\n"),
            Lines{"engine/base/a.cc:2: room base may not include from load"});
  EXPECT_EQ(in_engine("load", "#include \"chain/chain.h\"\n#include \"load/tree.h\"\n"), Lines{});
}

TEST(Arrows, IncludeMustNameItsRoom) {
  EXPECT_EQ(in_engine("load", "#include \"tree.h\"\n").size(), 1U);
  EXPECT_EQ(in_engine("load", "#include \"attic/tree.h\"\n").size(), 1U);
  EXPECT_EQ(in_engine("load", "#include \"../chain/chain.h\"\n").size(), 1U);
  EXPECT_EQ(complaints("cli/a.cc", "#include \"../engine/load/load.h\"\n", sample()).size(), 1U);
  EXPECT_EQ(complaints("tests/load/a.cc", "#include \"../helper.h\"\n", sample()).size(), 1U);
  EXPECT_EQ(complaints("cli/a.cc", "#include \"prompt.h\"\n", sample()), Lines{});
}

TEST(Arrows, LibraryIsForItsRoomOnly) {
  const std::vector<std::pair<std::string, std::string>> owners = {
      {"load", "#include <yaml-cpp/yaml.h>\n"},
      {"chain", "#include <boost/graph/filtered_graph.hpp>\n"},
      {"upkeep", "#include <boost/math/special_functions/gamma.hpp>\n"},
      {"render", "#include <nlohmann/json.hpp>\n"},
      {"load", "#include <fstream>\n"}};
  for (const auto& [owner, line] : owners) {
    for (const auto& [room, uses] : sample()) {
      EXPECT_EQ(in_engine(room, line).empty(), room == owner) << room << " with " << line;
    }
    EXPECT_EQ(complaints("cli/a.cc", line, sample()), Lines{});
  }
  for (const auto& [room, uses] : sample()) {
    EXPECT_EQ(in_engine(room, "#include <spdlog/spdlog.h>\n").size(), 1U) << room;
    EXPECT_EQ(in_engine(room, "#include <iostream>\n").size(), 1U) << room;
  }
  EXPECT_EQ(complaints("cli/a.cc", "#include <spdlog/spdlog.h>\n", sample()), Lines{});
}

TEST(Arrows, PrintsAndReadsOfTheWorldAreRefused) {
  for (const std::string line :
       {"std::cout << 1;", "std::cerr << 1;", "printf(\"x\");", "std::fputs(text, file);",
        "fmt::print(\"x\");", "fmt::print (stderr_like, 1);", "auto home = std::getenv(\"HOME\");",
        "auto now = std::chrono::system_clock::now();", "auto now = std::time(nullptr);",
        "auto now = time (nullptr);", "int luck = rand();", "std::random_device seed;"}) {
    EXPECT_EQ(in_engine("load", line + "\n").size(), 1U) << line;
    EXPECT_EQ(complaints("cli/a.cc", line + "\n", sample()), Lines{}) << line;
  }
}

TEST(Arrows, OrdinaryWordsPass) {
  for (const std::string line :
       {"// printf and std::cout are not for us", "/* time(nullptr) */", "log(\"std::cout\");",
        "auto text = R\"x(\n\"std::cerr\")x\";", "double time_minutes = 1'000.0;", "move.time(3);",
        "case_file->print(3);", "char quote = '\"'; int cord = '\\'';",
        "int blueprint(int runtime);", "#include <fmt/format.h>", "#include <chrono>"}) {
    EXPECT_EQ(in_engine("load", line + "\n"), Lines{}) << line;
  }
}

TEST(Arrows, CodeAfterACommentOrAStringIsSeen) {
  EXPECT_EQ(in_engine("load", "/* a */ std::cout << 1;\n").size(), 1U);
  EXPECT_EQ(in_engine("load", "auto a = \"\\\"\"; std::cout << 1;\n").size(), 1U);
  EXPECT_EQ(in_engine("load", "auto a = R\"(\\)\"; std::cout << 1;\n").size(), 1U);
  EXPECT_EQ(in_engine("load", "int a = 1'0; std::cout << '1';\n").size(), 1U);
  EXPECT_EQ(in_engine("load", "#include <string> // a\nstd::cout << 1;\n"),
            (Lines{"engine/load/a.cc:2: engine/ neither prints nor reads clock, environment or "
                   "chance: cout"}));
}

}  // namespace
}  // namespace whichlink::arrows
