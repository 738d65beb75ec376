#include "base/utf8.h"

namespace whichlink {

std::optional<char32_t> next_code_point(std::string_view text, std::size_t& offset) {
  const auto byte = [&](std::size_t at) { return static_cast<unsigned char>(text[at]); };
  const unsigned char first = byte(offset);
  if (first < 0x80) {
    ++offset;
    return first;
  }
  std::size_t length = 0;
  char32_t code = 0;
  char32_t least = 0;  // anything smaller had a shorter form
  if ((first & 0xe0U) == 0xc0) {
    length = 2, code = first & 0x1fU, least = 0x80;
  } else if ((first & 0xf0U) == 0xe0) {
    length = 3, code = first & 0x0fU, least = 0x800;
  } else if ((first & 0xf8U) == 0xf0) {
    length = 4, code = first & 0x07U, least = 0x10000;
  } else {
    return std::nullopt;
  }
  if (text.size() - offset < length) return std::nullopt;
  for (std::size_t index = 1; index < length; ++index) {
    const unsigned char next = byte(offset + index);
    if ((next & 0xc0U) != 0x80) return std::nullopt;
    code = (code << 6U) | (next & 0x3fU);
  }
  if (code < least || code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff)) return std::nullopt;
  offset += length;
  return code;
}

std::size_t count_code_points(std::string_view text) {
  std::size_t count = 0;
  for (std::size_t offset = 0; offset < text.size(); ++count) {
    if (!next_code_point(text, offset)) ++offset;
  }
  return count;
}

}  // namespace whichlink
