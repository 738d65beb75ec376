#include "pocket/tree.h"

#include <gtest/gtest.h>

#include <filesystem>

#include "load/load.h"

namespace whichlink::cli {
namespace {

namespace fs = std::filesystem;

load::Node tree_of(const std::string& text) {
  load::Complaints complaints("a file");
  const auto root = load::tree_from(text, complaints);
  EXPECT_TRUE(root && complaints.empty());
  return root.value_or(load::Node{});
}

// What a reader makes of it, places and quotes apart.
void expect_alike(const load::Node& a, const load::Node& b) {
  ASSERT_EQ(a.kind, b.kind);
  std::string text = a.text;
  while (!a.plain && text.ends_with('\n')) text.pop_back();
  EXPECT_EQ(text, b.text);
  ASSERT_EQ(a.items.size(), b.items.size());
  for (std::size_t at = 0; at < a.items.size(); ++at) expect_alike(a.items[at], b.items[at]);
  ASSERT_EQ(a.entries.size(), b.entries.size());
  for (std::size_t at = 0; at < a.entries.size(); ++at) {
    EXPECT_EQ(a.entries[at].key, b.entries[at].key);
    expect_alike(a.entries[at].value, b.entries[at].value);
  }
}

TEST(Tree, EveryShippedFileComesBackAsItWas) {
  std::size_t files = 0;
  for (const char* folder : {"rules", "models"}) {
    for (const auto& entry : fs::directory_iterator(fs::path(WHICHLINK_SOURCE_DIR) / folder)) {
      if (entry.path().extension() != ".yaml") continue;
      const auto text = load::read_file(entry.path().string());
      ASSERT_TRUE(text) << entry.path();
      const load::Node tree = tree_of(*text);
      const auto back = node_of(Json::parse(json_of(tree).dump()));
      ASSERT_TRUE(back) << entry.path();
      expect_alike(tree, *back);
      ++files;
    }
  }
  EXPECT_GE(files, 6U);
}

TEST(Tree, KeepsOrderTextsAndNothing) {
  const load::Node tree =
      tree_of("b: .50\na: \"5\"\nlist: [~, true, [], {}]\nblock: |\n  two\n  lines\n");
  EXPECT_EQ(json_of(tree).dump(),
            R"({"b":".50","a":"5","list":[null,"true",[],{}],"block":"two\nlines"})");
}

TEST(Tree, NumbersAndTruthAreScalars) {
  const auto node = node_of(Json::parse(R"({"drop db":12.5,"yes":true,"days":7})"));
  ASSERT_TRUE(node);
  ASSERT_EQ(node->entries.size(), 3U);
  EXPECT_EQ(node->entries[0].value.text, "12.5");
  EXPECT_EQ(node->entries[1].value.text, "true");
  EXPECT_EQ(node->entries[2].value.text, "7");
  for (const load::Entry& entry : node->entries) EXPECT_TRUE(entry.value.plain);
}

TEST(Tree, DeepestNestingIsThatOfAFile) {
  const auto nested = [](int levels) {
    return Json::parse(std::string(static_cast<std::size_t>(levels), '[') + "7" +
                       std::string(static_cast<std::size_t>(levels), ']'));
  };
  EXPECT_TRUE(node_of(nested(load::kDeepestNesting)));
  EXPECT_FALSE(node_of(nested(load::kDeepestNesting + 1)));
}

}  // namespace
}  // namespace whichlink::cli
