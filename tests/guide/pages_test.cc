#include "render/pages.h"

#include <sstream>

#include "base/random.h"
#include "guide/support.h"

namespace whichlink::testing {
namespace {

void expect_fits(const std::string& text, const render::Style& style, const std::string& what) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    EXPECT_LE(render::columns(line), style.width) << what << ": " << line;
  }
  if (!style.colour) {
    EXPECT_EQ(text.find('\x1b'), std::string::npos) << what;
  }
  if (!style.unicode) {
    const bool plain = std::all_of(text.begin(), text.end(), [](char letter) {
      return static_cast<unsigned char>(letter) < 0x80;
    });
    EXPECT_TRUE(plain) << what << ": " << text;
  }
}

std::vector<render::Style> styles() {
  return {{80, false, true}, {80, false, false}, {80, true, true}};
}

TEST(Text, WrappedLinesNeverExceedTheWidth) {
  Random random(3);
  const std::vector<std::string> letters = {"a", "b", "é", "─", "…", "ß"};
  for (int round = 0; round < 500; ++round) {
    const std::size_t width = 12 + random.below(70);
    const std::string first(random.below(5), '-');
    std::string text;
    std::string squeezed;
    for (std::uint32_t word = random.below(40); word > 0; --word) {
      for (std::uint32_t size = 1 + random.below(7); size > 0; --size) {
        const std::string& letter = letters[random.below(6)];
        text += letter;
        squeezed += letter;
      }
      text += random.chance(.1) ? "  " : " ";
    }
    const std::string out = render::wrapped(text, first, width);
    expect_fits(out, {width, false, true}, text);
    std::string left;
    for (const char letter : out.substr(first.size())) {
      if (letter != ' ' && letter != '\n') left += letter;
    }
    EXPECT_EQ(left, squeezed);  // nothing is lost
  }
}

TEST(Text, AWordLongerThanALineStandsAlone) {
  EXPECT_EQ(render::wrapped("a bbbbbbbb c", "", 4), "a\nbbbbbbbb\nc\n");
}

TEST(Text, ColumnsAreCodePointsAndColoursTakeNone) {
  EXPECT_EQ(render::columns(""), 0U);
  EXPECT_EQ(render::columns("über…"), 5U);
  EXPECT_EQ(render::columns("\x1b[33mmum\x1b[0m"), 3U);
}

TEST(Text, CutsToTheWidthAndSaysThatSomethingIsLost) {
  for (const bool unicode : {true, false}) {
    const render::Style style{80, false, unicode};
    for (std::size_t width = 0; width < 12; ++width) {
      EXPECT_LE(render::columns(render::cut("äöü-äöü-äöü", width, style)), width);
    }
    EXPECT_EQ(render::cut("äöü", 3, style), "äöü");
    EXPECT_EQ(render::cut("äöüß", 3, style), unicode ? "äö…" : "ä..");
  }
}

TEST(Text, ABarGrowsWithItsShareAndStaysWithinItsWidth) {
  for (const bool unicode : {true, false}) {
    const render::Style style{80, false, unicode};
    std::size_t before = 0;
    for (int step = -10; step <= 1010; ++step) {
      const std::string bar = render::bar(step / 1000.0, 20, style);
      EXPECT_LE(render::columns(bar), 20U);
      EXPECT_GE(render::columns(bar), before);
      before = render::columns(bar);
    }
    EXPECT_EQ(before, 20U);
    EXPECT_EQ(render::bar(0, 20, style), "");
  }
}

TEST(Text, OnlyCertaintyIsAHundredPercent) {
  EXPECT_EQ(render::percent(1), "100 %");
  EXPECT_EQ(render::percent(0.9999999), ">99 %");
  EXPECT_EQ(render::percent(0.995), ">99 %");
  EXPECT_EQ(render::percent(0.994), "99 %");
  EXPECT_EQ(render::percent(0.005), "1 %");
  EXPECT_EQ(render::percent(0.0049), "<1 %");
  EXPECT_EQ(render::percent(0), "<1 %");
  EXPECT_EQ(render::percent(0.38), "38 %");
}

TEST(Text, ListsAsInSpeech) {
  EXPECT_EQ(render::listed({}), "");
  EXPECT_EQ(render::listed({"a"}), "a");
  EXPECT_EQ(render::listed({"a", "b", "c"}), "a, b and c");
}

class Pages : public ::testing::TestWithParam<std::string> {
 protected:
  const moves::Installation installation_ = shipped(GetParam());

  static void expect_case_fits(const guide::Case& one, const std::string& where) {
    const guide::Advice advice = one.advise();
    const plan::Picture picture = one.picture();
    std::vector<moves::Move> shown;
    if (advice.move) shown.push_back(*advice.move);
    for (const plan::Candidate& candidate : advice.plan.candidates) shown.push_back(candidate.move);
    for (const render::Style& style : styles()) {
      expect_fits(render::opening_page(one, style), style, where + " opening");
      expect_fits(render::others_page(one, advice, style), style, where + " others");
      expect_fits(render::rank_page(one, advice, picture, style), style, where + " rank");
      for (const moves::Move& move : shown) {
        const std::string here = where + ", " + move.name;
        expect_fits(render::step_page(one, advice, picture, move, style), style, here + " step");
        expect_fits(render::why_page(one, advice, move, style), style, here + " why");
        expect_fits(render::answer_line(one, move, style), style, here + " answers");
      }
      for (const guide::Stage stage : {guide::Stage::under_way, guide::Stage::mended,
                                       guide::Stage::nothing_found, guide::Stage::handed_over}) {
        expect_fits(render::ending_page(one, one.ending(stage), style), style, where + " ending");
      }
      if (::testing::Test::HasFailure()) return;
    }
  }
};

std::string claim_of(const ::testing::TestParamInfo<std::string>& info) {
  std::string name = info.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Render, Pages,
                         ::testing::Values("two-room-booth", "single-room", "screening-set",
                                           "small-stage"),
                         claim_of);

TEST_P(Pages, OfACaseFitEightyColumnsOnEveryRoute) {
  for (const chain::Route& route : installation_.chain.routes) {
    const auto& sense = installation_.rules.senses[installation_.rules.signals[route.signal].sense];
    const std::string worst = sense.symptoms.back().name;
    const auto opened = open_case(installation_, route.name, {worst, {}}, {{"listen", worst}});
    ASSERT_TRUE(opened);
    expect_case_fits(*opened, route.name);
    if (HasFailure()) return;
  }
}

TEST_P(Pages, OfASurveyFitEightyColumns) {
  const moves::Setting setting(installation_, 7);
  const guide::Survey survey = guide::survey_of(setting);
  for (const render::Style& style : styles()) {
    for (const bool with_moves : {false, true}) {
      expect_fits(render::survey_page(setting, survey, with_moves, style), style, "survey");
    }
  }
}

}  // namespace
}  // namespace whichlink::testing
