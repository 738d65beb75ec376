#include "render/glyphs.h"

#include <gtest/gtest.h>

#include <clocale>
#include <cwchar>

#include "render/text.h"

namespace whichlink::render {
namespace {

// The C library has a table of its own.
TEST(Glyphs, TakeAsManyCellsAsTheCLibrarySays) {
  ASSERT_NE(std::setlocale(LC_CTYPE, "C.UTF-8"), nullptr);
  std::size_t compared = 0;
  std::size_t wide = 0;
  std::size_t none = 0;
  for (const auto& [first, last] : {std::pair<char32_t, char32_t>{0x20, 0x7e},
                                    {0xa1, 0x6ff},
                                    {0xe01, 0xe5b},
                                    {0x1e00, 0x1fff},
                                    {0x2010, 0x2027},
                                    {0x2500, 0x259f},
                                    {0x2e80, 0x9fff},
                                    {0xac00, 0xd7a3},
                                    {0xf900, 0xfaff},
                                    {0xff01, 0xffdc},
                                    {0x1f300, 0x1f64f},
                                    {0x1f900, 0x1f9ff},
                                    {0x20000, 0x2a6df}}) {
    for (char32_t code = first; code <= last; ++code) {
      const int right = ::wcwidth(static_cast<wchar_t>(code));
      if (right < 0 || code == 0xad || (code >= 0x600 && code <= 0x605) || code == 0x6dd) continue;
      EXPECT_EQ(cells_of(code), static_cast<std::size_t>(right)) << std::hex << std::uint32_t{code};
      ++compared;
      wide += right == 2 ? 1 : 0;
      none += right == 0 ? 1 : 0;
    }
  }
  std::setlocale(LC_CTYPE, "C");
  EXPECT_GT(compared, 80'000U);
  EXPECT_GT(wide, 70'000U);
  EXPECT_GT(none, 200U);
}

TEST(Glyphs, TextIsFilledUpAndCutByCells) {
  EXPECT_EQ(columns("e\xcc\x81"), 1U);
  EXPECT_EQ(padded("日本", 6), "日本  ");
  EXPECT_EQ(padded("e\xcc\x81", 3), "e\xcc\x81  ");
  EXPECT_EQ(cut("日本語の部屋", 7, {80, false, true}), "日本語…");
  EXPECT_EQ(cut("日本語の部屋", 6, {80, false, true}), "日本…");
  EXPECT_EQ(cut("🎧 left", 4, {80, false, true}), "🎧 …");
  EXPECT_EQ(columns("\xff\xfe"), 2U);
}

}  // namespace
}  // namespace whichlink::render
