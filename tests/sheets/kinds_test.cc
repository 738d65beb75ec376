#include <gtest/gtest.h>

#include <algorithm>
#include <regex>

#include "guide/support.h"
#include "render/bars.h"
#include "render/check_words.h"
#include "sheets/chain_sheet.h"
#include "sheets/check_sheet.h"
#include "sheets/drill_sheet.h"
#include "sheets/hand_over_sheet.h"
#include "sheets/html.h"
#include "sheets/names.h"
#include "sheets/notice_sheet.h"
#include "sheets/stock_sheet.h"
#include "sheets/year_sheet.h"

namespace whichlink::sheets {
namespace {

using testing::open_case;
using testing::shipped;

const std::string kDate = "2026-11-26";
const std::vector<std::string> kModels = {"screening-set", "single-room", "small-stage",
                                          "two-room-booth"};

bool holds(const std::string& page, const std::string& text) {
  return page.find(text) != std::string::npos;
}

std::size_t count(const std::string& page, const std::string& text) {
  std::size_t times = 0;
  for (std::size_t at = page.find(text); at != std::string::npos; at = page.find(text, at + 1)) {
    ++times;
  }
  return times;
}

/// As text, marks left out.
std::string read(const std::string& page) {
  const std::size_t body = page.find("<body>");
  return std::regex_replace(page.substr(body), std::regex("<[^>]*>"), "");
}

TEST(ChainSheet, TellsEveryRouteEveryPlugAndEverySpare) {
  for (const std::string& model : kModels) {
    const moves::Installation installation = shipped(model);
    const moves::Setting setting(installation, 0);
    const chain::Chain& chain = installation.chain;
    const std::string text = read(chain_sheet(setting, kDate));
    for (const chain::Route& route : chain.routes) EXPECT_TRUE(holds(text, route.name));
    for (const ElementId plug : chain.elements.ids()) {
      EXPECT_TRUE(!chain.home.plug_in[plug] || holds(text, called(chain, plug))) << model;
    }
    for (const chain::Part& part : chain.parts) {
      EXPECT_TRUE(!part.spare || holds(text, part.name)) << model << part.name;
    }
  }
}

TEST(CheckSheet, HasEveryStepInItsOrderWithABoxForEachCheck) {
  for (const std::string& model : kModels) {
    const moves::Installation installation = shipped(model);
    const moves::Setting setting(installation, 7);
    for (const std::string list : {"daily", "weekly"}) {
      routine::CheckFile events;
      events.list = list;
      const auto round = routine::Round::open(setting, events);
      ASSERT_TRUE(round) << model;
      const auto page = check_sheet(**round, "", kDate);
      ASSERT_TRUE(page) << model;
      const std::vector<routine::Step>& steps = (*round)->plan().steps;
      EXPECT_EQ(count(*page, "class=\"tick\""), 5 * steps.size()) << model << list;
      const std::string text = read(*page);
      std::size_t at = text.find("Go through these in order");
      for (const routine::Step& step : steps) {
        const std::string title = Words(capital(render::step_title(setting, step))).markup();
        at = text.find(title, at);
        ASSERT_NE(at, std::string::npos) << model << list << title;
      }
      for (const std::string& caution : render::all_cautions(**round)) {
        EXPECT_TRUE(holds(text, Words(caution).markup())) << caution;
      }
    }
  }
}

TEST(CheckSheet, LevelsAreTheDialAndTheReference) {
  const moves::Installation installation = shipped("single-room");
  const moves::Setting setting(installation, 7);
  const auto round = routine::Round::open(setting, {});
  const auto page = check_sheet(**round, "supra-aural on ear simulator", kDate);
  ASSERT_TRUE(page);
  // 70 on the dial and 7.5 dB at 1000 Hz, ISO 389-1.
  EXPECT_TRUE(std::regex_search(
      *page, std::regex("<span>1000</span></th>.*<span>77.5</span>.*<span>3</span>")));
  EXPECT_FALSE(check_sheet(**round, "none", kDate));
}

TEST(HandOverSheet, TellsWhatWasDoneAndWhatIsNotPutBack) {
  const moves::Installation installation = shipped("two-room-booth");
  const auto one = open_case(installation, "left phone", {"drops out", {}},
                             {{"listen", "crackle"},
                              {"connect headset cord.left plug into left jack", "steady"},
                              {"measure headset cord", guide::kCannotDo}});
  const std::string page = hand_over_sheet(*one, {"12", "2026-11-20T08:30:00", kDate});
  const std::string text = read(page);
  EXPECT_TRUE(holds(text, "drops out and comes back"));
  EXPECT_TRUE(holds(text, "crackles or scratches"));
  EXPECT_TRUE(holds(text, "could not be done"));
  EXPECT_TRUE(holds(text, "Still to be put back"));
  EXPECT_TRUE(holds(text, "headset cord (left plug) into left inside jack"));
  EXPECT_TRUE(holds(text, "number 12 on record"));
  EXPECT_TRUE(holds(text, "2026-11-20 08:30"));
  EXPECT_LT(text.find("crackles or scratches"), text.find("could not be done"));
  for (const std::string& route : one->ending(guide::Stage::under_way).do_not_use) {
    EXPECT_GT(text.find(route, text.find("Not to be used")), 0U);
  }
}

TEST(Notice, OfSeveralRoutesLeavesOnlyWhatNoneOfThemPutsInDoubt) {
  const moves::Installation installation = shipped("small-stage");
  const auto one = open_case(installation, "left vocal", {"cuts", {}});
  const auto other = open_case(installation, "right drums", {"cuts", {}});
  const Notice notice = notice_of({one.get(), other.get()});
  EXPECT_EQ(notice.routes, (std::vector<std::string>{"left vocal", "right drums"}));
  EXPECT_EQ(notice.works, (std::vector<std::string>{"right vocal", "left drums"}));
  EXPECT_EQ(notice.heard, "cuts in and out");
}

TEST(YearSheet, HasTheNumbersOfItsPicturesInTables) {
  history::Year year;
  year.year = 2026;
  year.cases = 2;
  year.mended = 2;
  year.minutes = 12;
  year.classes = {{"phone plug", 1.5, 9, 2}, {"jack", .01, 3, 0}};
  year.months.resize(12);
  year.months[4] = {2, 12};
  year.lists = {{"daily", 3, 200, 50}, {"weekly", 1, 0, 0}};
  const std::string page = year_sheet("Room", year, kDate);
  EXPECT_TRUE(holds(page, "2 in all: 2 mended"));
  EXPECT_TRUE(holds(page, ">Phone plug</span></th>"));
  EXPECT_FALSE(holds(page, ">Jack</span></th>"));  // a hundredth of a fault reads as nothing
  EXPECT_TRUE(holds(page, ">25 %</span>"));
  EXPECT_TRUE(holds(page, ">not known</span>"));
  EXPECT_EQ(count(page, "<svg"), count(page, "<figure"));
  EXPECT_EQ(count(page, "<table"), 3U);
}

TEST(DrillSheet, HasEachDrillAndWhatTheMinutesWentBy) {
  record::Drilled one;
  one.trainee = "T1";
  one.lesson = "one change at a time";
  one.drill_case = "a cord";
  one.at = "2026-10-01T09:00:00";
  one.ideal = 30;
  one.lost = 10;
  one.not_put_back = 1;
  one.losses = {{"a habit of another version", 10}};
  one.claims = {{"cord", .9, .8, true, true}};
  record::Drilled other = one;
  other.at = "2026-10-02T09:00:00";
  other.lost = 30;
  other.not_put_back = 0;
  const std::string page = drill_sheet(history::progress_of("T1", {one, other}), kDate);
  EXPECT_TRUE(holds(page, "<span>75</span>"));            // 30 of 40
  EXPECT_TRUE(holds(page, "<span>50</span>"));            // 30 of 60
  EXPECT_TRUE(holds(page, "60 of 100 over all, 50 in"));  // 60 of 100
  EXPECT_TRUE(holds(page, "A habit of another version"));
  EXPECT_TRUE(holds(page, "1 drill that ended"));
  EXPECT_TRUE(holds(page, "Brier score 0.010 over 2 claims"));  // (1 - .9) squared
}

TEST(StockSheet, SaysWhatToOrderAndLeavesRoomToCount) {
  stock::Line cord;
  cord.name = "cord <3>";
  cord.hold = 3;
  cord.on_hand = 1;
  cord.order = 2;
  cord.lead_days = 8;
  cord.per_year = 1.5;
  stock::Line unused;
  unused.name = "swab";
  stock::Answer answer;
  answer.parts = {cord};
  answer.supplies = {unused};
  const std::string page = stock_sheet({"Cupboard", "min", false, 10, 1}, answer, kDate);
  EXPECT_TRUE(holds(page, "2 x <strong><bdi>cord &lt;3&gt;</bdi></strong>, comes in 8 days"));
  EXPECT_TRUE(holds(page, ">counted</th>"));
  EXPECT_FALSE(holds(page, "Swab"));  // nobody asks for one
  answer.parts.front().order = 0;
  EXPECT_TRUE(holds(stock_sheet({"Cupboard", "min", false, 10, 1}, answer, kDate), "Nothing."));
}

TEST(Bars, AreAsLongAsTheirNumbersAndSayThem) {
  const std::string svg =
      render::bars_svg({{"one", 2, "2", 0}, {"a & b", 1, "1", 4}}, "Frame: due");
  EXPECT_TRUE(holds(svg, ">a &amp; b</text>"));
  EXPECT_TRUE(holds(svg, ">Frame: due</text>"));
  std::vector<double> widths;
  const std::regex bar("<rect x=[^>]* width=\"([0-9.]+)\" height=\"12\"");
  for (std::sregex_iterator at(svg.begin(), svg.end(), bar), end; at != end; ++at) {
    widths.push_back(std::stod((*at)[1]));
  }
  ASSERT_EQ(widths.size(), 3U);
  EXPECT_NEAR(widths[0], 2 * widths[2], .11);  // 2 and 1, written to a tenth of a unit
  EXPECT_NEAR(widths[1], 4 * widths[2], .21);  // the frame of 4
  EXPECT_TRUE(holds(render::bars_svg({}), "Nothing to show."));
  EXPECT_TRUE(holds(render::bars_svg({{"none", 0, "0", 0}}), "width=\"0.0\""));
}

TEST(Names, OfPiecesAreSaidInBrackets) {
  const moves::Installation installation = shipped("single-room");
  EXPECT_EQ(said_names(installation.chain, "twist headset cord.left plug, then headset cord"),
            "twist headset cord (left plug), then headset cord");
  EXPECT_EQ(said_names(installation.chain, "a conductor broken in headset cord.cord (left)"),
            "a conductor broken in headset cord (cord, left)");
  EXPECT_EQ(said_moment("2026-11-26T08:30:59"), "2026-11-26 08:30");
  EXPECT_EQ(said_moment("2026-11-26"), "2026-11-26");
  EXPECT_EQ(capital("a"), "A");
  EXPECT_EQ(capital(""), "");
}

}  // namespace
}  // namespace whichlink::sheets
