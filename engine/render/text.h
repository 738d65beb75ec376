#pragma once

#include <string>
#include <vector>

/// Small pieces of text output: no decisions, no arithmetic beyond rounding.
namespace whichlink::render {

/// How to write for one reader.
struct Style {
  std::size_t width = 80;
  bool colour = false;
  bool unicode = true;  ///< bars and lines in box characters; else plain ASCII
};

/// Columns that a UTF-8 text takes, as glyphs.h says; none for a colour.
[[nodiscard]] std::size_t columns(const std::string& text);
/// Words broken into lines of at most `width` columns; `first` before the first line, and as many
/// blanks before the others. A word longer than a line stands alone.
[[nodiscard]] std::string wrapped(const std::string& text, const std::string& first,
                                  std::size_t width);
/// A step of a page: its label in bold, then the text, broken into lines beside it.
[[nodiscard]] std::string labelled(const std::string& label, const std::string& text,
                                   const Style& style);
/// Columns that the label of a step takes.
inline constexpr std::size_t kLabelColumns = 10;
/// Cut to so many columns, with an ellipsis where something is lost.
[[nodiscard]] std::string cut(const std::string& text, std::size_t width, const Style& style);
/// Filled up with blanks.
[[nodiscard]] std::string padded(const std::string& text, std::size_t width);
/// A share from 0 to 1 as a bar of at most `width` columns.
[[nodiscard]] std::string bar(double share, std::size_t width, const Style& style);
/// "38 %", "under 1 %", "over 99 %", always five or more columns where `aligned`.
[[nodiscard]] std::string percent(double share);
/// "0.4 min", "12 min".
[[nodiscard]] std::string minutes(double duration_minutes);
[[nodiscard]] std::string heading(const std::string& text, const Style& style);
[[nodiscard]] std::string bold(const std::string& text, const Style& style);
[[nodiscard]] std::string dim(const std::string& text, const Style& style);
[[nodiscard]] std::string warning(const std::string& text, const Style& style);
/// "a, b and c"
[[nodiscard]] std::string listed(const std::vector<std::string>& names);

}  // namespace whichlink::render
