#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

/// Just enough UTF-8 to check a file, to count columns and to measure names.
namespace whichlink {

/// The code point that starts at `offset`, which is moved past it; nothing (and `offset` unmoved)
/// where the bytes are no shortest-form UTF-8 (a surrogate or a number above U+10FFFF is none
/// either). Precondition: offset < text.size().
[[nodiscard]] std::optional<char32_t> next_code_point(std::string_view text, std::size_t& offset);

/// C0, DEL and C1: what no name or sentence may hold.
[[nodiscard]] constexpr bool is_control(char32_t code) {
  return code < 0x20 || (code >= 0x7f && code <= 0x9f);
}

/// Number of code points; bytes that are no UTF-8 count one each.
[[nodiscard]] std::size_t count_code_points(std::string_view text);

}  // namespace whichlink
