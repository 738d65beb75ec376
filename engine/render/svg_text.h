#pragma once

#include <cstddef>
#include <string>
#include <vector>

/// Texts of pictures whose letters are of one width, so that their room is known without the face.
namespace whichlink::render {

/// A letter of a typewriter face is .6 of its size wide; the little more keeps texts apart where
/// another face stands in.
constexpr double kLetter = .61;

/// Columns of a UTF-8 text: those of East Asian scripts and pictures take two.
[[nodiscard]] std::size_t width_of(const std::string& text);
/// How many columns of letters of that size fit.
[[nodiscard]] std::size_t columns_in(double width, double size);
/// Lines of at most so many columns; a word that is longer is broken.
[[nodiscard]] std::vector<std::string> lines_of(const std::string& text, std::size_t most);

}  // namespace whichlink::render
