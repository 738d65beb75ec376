// Charts in words, and whether they fit their page. What a browser makes of the pages is looked at
// in tests/referees/wall.test.mjs.

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "guide/support.h"
#include "sheets/wall_fit.h"
#include "sheets/wall_sheet.h"
#include "sheets/wall_words.h"

namespace whichlink::sheets {
namespace {

constexpr plan::Depth kNoSearch{0, 0, 0};

/// Some charts of a shipped installation, small ones.
class Wall : public ::testing::TestWithParam<std::string> {
 protected:
  Wall() {
    for (const RouteId route : setting_.chain().routes.ids()) {
      if (route.value % 5 != 0) continue;
      for (const chart::Complaint& complaint : wall_complaints(setting_, route, 0, kNoSearch)) {
        const chart::Tree tree = chart::grow(setting_, complaint, {12, .02, kNoSearch});
        charts_.push_back(
            chart::chart_of(setting_, tree, {tree.opened.begin(), tree.opened.end()}));
        words_.push_back(words_of(setting_, charts_.back()));
      }
    }
  }

  const moves::Installation installation_ = testing::shipped(GetParam());
  const moves::Setting setting_{installation_, 7};
  std::vector<chart::Chart> charts_;
  std::vector<WallChart> words_;
};

std::vector<std::string> rooms() {
  std::vector<std::string> names = {"single-room", "screening-set", "small-stage"};
#ifndef WHICHLINK_SANITIZED
  names.push_back("two-room-booth");
#endif
  return names;
}

INSTANTIATE_TEST_SUITE_P(Shipped, Wall, ::testing::ValuesIn(rooms()), [](const auto& one) {
  std::string name = one.param;
  name.erase(std::remove(name.begin(), name.end(), '-'), name.end());
  return name;
});

TEST_P(Wall, EveryRowLeadsOnwardOrToAnEndThatIsExplained) {
  ASSERT_FALSE(words_.empty());
  for (const WallChart& words : words_) {
    std::set<std::string> ends;
    for (const WallEnd& end : words.ends) EXPECT_TRUE(ends.insert(end.name).second);
    EXPECT_EQ(ends.count("STOP"), 1U) << "every chart can be left";
    std::set<std::size_t> reached{0};
    for (std::size_t index = 0; index < words.boxes.size(); ++index) {
      EXPECT_FALSE(words.boxes[index].rows.empty());
      std::set<std::size_t> wrong_ways;
      for (std::size_t row = 1; row < words.boxes[index].rows.size(); ++row) {
        const auto& box = words.boxes[index].rows[row].box;
        EXPECT_TRUE(!box || wrong_ways.insert(*box).second) << "two lines to one box";
      }
      for (const WallRow& row : words.boxes[index].rows) {
        EXPECT_NE(row.box.has_value(), !row.ends.empty());
        EXPECT_FALSE(row.heard.empty());
        if (row.box) {
          EXPECT_GT(*row.box, index);
          reached.insert(*row.box);
        } else {
          EXPECT_EQ(ends.count(row.ends), 1U) << row.ends;
        }
      }
    }
    EXPECT_EQ(reached.size(), std::max<std::size_t>(words.boxes.size(), 1));
  }
}

TEST_P(Wall, EveryCautionOfEveryStepIsOnThePage) {
  std::size_t cautions = 0;
  for (std::size_t index = 0; index < charts_.size(); ++index) {
    std::set<std::string> told(words_[index].cautions.begin(), words_[index].cautions.end());
    told.insert(words_[index].every_time.begin(), words_[index].every_time.end());
    std::string beside;
    for (const WallBox& box : words_[index].boxes) beside += box.beside;
    for (const chart::Step& step : charts_[index].steps) {
      for (const std::size_t caution : step.move.cautions) {
        ++cautions;
        EXPECT_EQ(told.count(setting_.rules().cautions[caution].words), 1U);
      }
    }
    // Those that are told by a number are named beside some step.
    EXPECT_EQ(words_[index].cautions.empty(), beside.find("Mind") == std::string::npos);
  }
  EXPECT_GT(cautions, 0U);
}

TEST_P(Wall, WhoeverIsSentToServiceIsToldWhatToSay) {
  std::size_t rows = 0;
  std::size_t silent = 0;
  for (const WallChart& words : words_) {
    for (const WallBox& box : words.boxes) {
      for (const WallRow& row : box.rows) {
        if (row.ends != "SERVICE") continue;
        ++rows;
        if (row.means.find("likely ") == std::string::npos) ++silent;
      }
    }
  }
  EXPECT_GT(rows, 0U);
  EXPECT_EQ(silent, 0U) << "of " << rows;
}

// Nobody learns from the engine's own words what it is about: each sentence has an end.
TEST_P(Wall, SentencesAreWhole) {
  for (const WallChart& words : words_) {
    std::vector<std::string> sentences{words.comes_to, words.if_not_sure};
    for (const WallEnd& end : words.ends) sentences.push_back(end.words);
    for (const WallBox& box : words.boxes) {
      sentences.push_back(box.beside);
      sentences.push_back(box.how.empty() ? box.title : box.how);
      for (const std::string& one : box.series) sentences.push_back(one);
    }
    for (const std::string& sentence : sentences) {
      ASSERT_FALSE(sentence.empty());
      EXPECT_TRUE(sentence.back() == '.' || sentence.back() == ':') << sentence;
      EXPECT_EQ(sentence.find("  "), std::string::npos) << sentence;
      EXPECT_EQ(sentence.find(".."), std::string::npos) << sentence;
      EXPECT_EQ(sentence.find('{'), std::string::npos) << sentence;
    }
  }
}

TEST_P(Wall, WhatFitsInLargeLettersFitsInSmallOnes) {
  std::size_t fitting = 0;
  for (const WallChart& words : words_) {
    bool fits = false;
    for (const double size : wall_sizes()) {
      EXPECT_GE(size, 10) << "letters of a page are ten points at least";
      EXPECT_TRUE(fits_page(words, size) || !fits);
      fits = fits || fits_page(words, size);
    }
    fitting += fits ? 1 : 0;
    EXPECT_FALSE(fits_page(words, 40));
    if (words.boxes.empty()) continue;
    WallChart longer = words;
    for (int times = 0; times < 30; ++times) {
      longer.boxes.insert(longer.boxes.end(), words.boxes.begin(), words.boxes.end());
    }
    EXPECT_FALSE(fits_page(longer, wall_sizes().back()));
  }
  EXPECT_GT(fitting, 0U);
}

TEST(WallPage, HasASectionForEachComplaintAndSaysWhichIsWhich) {
  const moves::Installation room = testing::shipped("single-room");
  const moves::Setting setting(room, 7);
  const RouteId route{3};
  WallQuestion question;
  question.complaints = wall_complaints(setting, route, 0, kNoSearch);
  question.date = "2026-11-26";
  const std::string page = wall_sheet(setting, question, {});
  std::size_t sections = 0;
  for (std::size_t at = page.find("class=\"chart "); at != std::string::npos;
       at = page.find("class=\"chart ", at + 1)) {
    ++sections;
  }
  EXPECT_EQ(sections, question.complaints.size());
  EXPECT_GT(sections, 1U);
  for (std::size_t chart = 1; chart <= sections; ++chart) {
    const std::string number = std::to_string(chart);
    EXPECT_NE(page.find("href=\"#chart-" + number + "\""), std::string::npos);
    EXPECT_NE(page.find("id=\"chart-" + number + "\""), std::string::npos);
  }
  // Every link leads somewhere.
  std::size_t links = 0;
  for (std::size_t at = page.find("href=\"#"); at != std::string::npos;
       at = page.find("href=\"#", at + 1)) {
    const std::size_t from = at + 7;
    const std::string anchor = page.substr(from, page.find('"', from) - from);
    EXPECT_NE(page.find("id=\"" + anchor + "\""), std::string::npos) << anchor;
    ++links;
  }
  EXPECT_GT(links, sections);
  EXPECT_EQ(page, wall_sheet(setting, question, {}));
}

TEST(WallWords, OfAHundred) {
  EXPECT_EQ(of_hundred(0), "none");
  EXPECT_EQ(of_hundred(.001), "under 1");
  EXPECT_EQ(of_hundred(.005), "1");
  EXPECT_EQ(of_hundred(.384), "38");
  EXPECT_EQ(of_hundred(.994), "99");
  EXPECT_EQ(of_hundred(.9951), "over 99");
  EXPECT_EQ(of_hundred(1), "all");
}

TEST(WallWords, LevelsThatFollowEachOtherAreOneRange) {
  const moves::Installation room = testing::shipped("single-room");
  const moves::Setting setting(room, 7);
  const chart::Complaint complaint{RouteId{0}, 0, {1, 5, 6, 7, 9}, 1};
  EXPECT_EQ(words_of(setting, complaint),
            "crackles or scratches / weak by about 20 to 50 dB / nothing at all");
}

TEST(WallFit, WidthsAreThoseOfAWideFace) {
  // DejaVu Sans, of 2048 to the em (seen in its own tables): i 569, e 1260, m 1995, W 2025.
  EXPECT_GE(width_of("i"), 569 / 2048.0);
  EXPECT_GE(width_of("e"), 1260 / 2048.0 - .01);
  EXPECT_GE(width_of("W"), 2025 / 2048.0 - .05);
  EXPECT_NEAR(width_of("\xC2\xA0"), 1, 1e-12);
  EXPECT_NEAR(width_of("ab"), width_of("a") + width_of("b"), 1e-12);
}

}  // namespace
}  // namespace whichlink::sheets
