#include "sheets/html.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <regex>

#include "base/random.h"

namespace whichlink::sheets {
namespace {

Page sample() {
  return {"Routine check", "A \"small\" <room> & more", "2026-11-26", "en", ""};
}

/// Opened and closed elements in turn; what is left open, and what was closed that was not open.
std::vector<std::string> unbalanced(const std::string& markup) {
  static const std::vector<std::string> kNeverClosed = {"!DOCTYPE", "meta", "path", "rect"};
  std::vector<std::string> open;
  const std::regex tag("<(/?)([!A-Za-z0-9]+)[^>]*?(/?)>");
  for (std::sregex_iterator at(markup.begin(), markup.end(), tag), end; at != end; ++at) {
    const std::string element = (*at)[2];
    const bool empty = (*at)[3] == "/" || std::find(kNeverClosed.begin(), kNeverClosed.end(),
                                                    element) != kNeverClosed.end();
    if (empty) continue;
    if ((*at)[1] == "") {
      open.push_back(element);
    } else if (!open.empty() && open.back() == element) {
      open.pop_back();
    } else {
      return {"/" + element};
    }
  }
  return open;
}

TEST(Html, TextIsEscapedOnceAndOnlyOnce) {
  EXPECT_EQ(Words("a < b & \"c\"").markup(), "a &lt; b &amp; &quot;c&quot;");
  EXPECT_EQ(strong(Words("a < b")).markup(), "<strong>a &lt; b</strong>");
  EXPECT_EQ(Words("&lt;").markup(), "&amp;lt;");
  EXPECT_EQ(
      paragraph(name("<script>alert(1)</script>")).markup(),
      "<p><bdi><span class=\"long\">&lt;script&gt;alert(1)&lt;/script&gt;</span></bdi></p>\n");
}

TEST(Html, WhatNoPageMayHoldBecomesTheReplacement) {
  const std::string gone = "\xEF\xBF\xBD";
  EXPECT_EQ(Words("a\x01z").markup(), "a" + gone + "z");
  EXPECT_EQ(Words("a\xFFz").markup(), "a" + gone + "z");
  EXPECT_EQ(Words("\xC3").markup(), gone);              // cut off in the middle
  EXPECT_EQ(Words("\xC2\x85").markup(), gone);          // a control of the second set
  EXPECT_EQ(Words("\xEF\xBF\xBE").markup(), gone);      // no character
  EXPECT_EQ(Words("\xF0\x9F\xBF\xBF").markup(), gone);  // nor this, U+1FFFF
  EXPECT_EQ(Words("\xED\xA0\x80").markup(), gone);      // half of a pair
  EXPECT_EQ(Words("\xE0\x80\xBC").markup(), gone);      // "<" made longer
  EXPECT_EQ(Words("\xF0\x9F\x8E\xA7").markup(), "\xF0\x9F\x8E\xA7");
  EXPECT_EQ(Words("\xD7\xA9").markup(), "\xD7\xA9");
}

/// Well-formed UTF-8, checked by what each byte may be followed by, from the end to the beginning:
/// another way than the code goes.
bool is_text(const std::string& bytes) {
  std::size_t follow = 0;
  for (std::size_t left = bytes.size(); left > 0; --left) {
    const auto byte = static_cast<unsigned char>(bytes[left - 1]);
    if (byte >= 0x80 && byte < 0xC0) {
      ++follow;
      continue;
    }
    const std::size_t wanted = byte < 0x80 ? 0 : byte < 0xE0 ? 1 : byte < 0xF0 ? 2 : 3;
    if (follow != wanted || byte == 0xC0 || byte == 0xC1 || byte > 0xF4) return false;
    if (byte == 0x7F || (byte < 0x20 && byte != '\n' && byte != '\t')) return false;
    follow = 0;
  }
  return follow == 0;
}

TEST(Html, WhateverBytesBecomeText) {
  Random random(11);
  std::size_t odd = 0;
  for (int round = 0; round < 3000; ++round) {
    std::string bytes;
    for (std::uint32_t length = random.below(12); length > 0; --length) {
      bytes += static_cast<char>(random.below(0x100));
    }
    odd += is_text(bytes) ? 0 : 1;
    const std::string markup = Words(bytes).markup();
    EXPECT_TRUE(is_text(markup)) << round;
    EXPECT_EQ(markup.find('<'), std::string::npos) << round;
  }
  EXPECT_GT(odd, 2000U);
}

TEST(Html, OnlyLongWordsMayBeBrokenAnywhere) {
  const std::string most(kLongWord, 'x');
  EXPECT_EQ(Words(most + " b").markup(), most + " b");
  EXPECT_EQ(Words(most + "x b").markup(), "<span class=\"long\">" + most + "x</span> b");
}

TEST(Html, PageIsBalancedAndHasWhatReadersNeed) {
  const Block body =
      section(2, "One", paragraph("text") + list(std::vector<Words>{"a", "b"})) +
      table({"Plugs", {"from", "to"}, {{"a", "b"}, {tick_box(), strong("d")}}, ""}) +
      facts({{"who", "nobody"}}) + blank("Initials") + cautions({"Headset off."}) +
      picture(R"(<svg viewBox="0 0 1 1"><path d="M0 0"/></svg>)", R"(A "dot")", "below") +
      numbered(
          std::vector<Block>{paragraph(link_to("one", "there")), box("frame", paragraph("x"))});
  const std::string whole = page(sample(), body, paragraph("last"));
  EXPECT_EQ(unbalanced(whole), std::vector<std::string>{});
  EXPECT_EQ(whole.find("<!DOCTYPE html>\n<html lang=\"en\">"), 0U);
  EXPECT_NE(whole.find("<title>Routine check: A &quot;small&quot; &lt;room&gt; &amp; more</title>"),
            std::string::npos);
  EXPECT_EQ(whole.find("<h1>"), whole.rfind("<h1>"));
  EXPECT_NE(whole.find("<th scope=\"col\">from</th>"), std::string::npos);
  EXPECT_NE(whole.find("<span>a</span></th>"), std::string::npos);
  EXPECT_NE(whole.find("aria-label=\"A &quot;dot&quot;\""), std::string::npos);
  EXPECT_EQ(whole.find("<room>"), std::string::npos);
}

TEST(Html, CheckOfBalanceSeesWhatIsNot) {
  EXPECT_EQ(unbalanced("<p><b></p>"), std::vector<std::string>{"/p"});
  EXPECT_EQ(unbalanced("<p>"), std::vector<std::string>{"p"});
}

TEST(Html, NothingOfANameGetsIntoTheStyle) {
  Page page = sample();
  page.about = "\"}</style><script>x</script>\\";
  const std::string whole = sheets::page(page, {});
  const std::size_t end = whole.find("</style>");
  ASSERT_NE(end, std::string::npos);
  EXPECT_EQ(whole.find("</style>", end + 1), std::string::npos);
  EXPECT_EQ(whole.find("<script"), std::string::npos);
  EXPECT_NE(whole.find("@bottom-left{content:\"\\22 \\7d \\3c \\2f style"), std::string::npos);
}

TEST(Html, EmptyPiecesLeaveNothing) {
  EXPECT_TRUE(list(std::vector<Words>{}).empty());
  EXPECT_TRUE(facts({}).empty());
  EXPECT_TRUE(cautions({}).empty());
}

}  // namespace
}  // namespace whichlink::sheets
