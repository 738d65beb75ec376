#pragma once

#include <cstddef>
#include <string_view>

/// How wide text stands on a terminal.
namespace whichlink::render {

/// Cells of the character that starts at `offset` of a UTF-8 text, which is moved past it: 0 for
/// marks that combine with the one before, 2 for those of East Asia and for pictures, else 1.
/// Precondition: offset < text.size(). Bytes that are no UTF-8 take one cell each.
[[nodiscard]] std::size_t cells_at(std::string_view text, std::size_t& offset);

/// Of one code point.
[[nodiscard]] std::size_t cells_of(char32_t code);

}  // namespace whichlink::render
