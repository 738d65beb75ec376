#include "render/svg_text.h"

namespace whichlink::render {
namespace {

std::size_t bytes_of(char first) {
  const auto byte = static_cast<unsigned char>(first);
  if (byte < 0xC0U) return 1;
  return byte < 0xE0U ? 2 : byte < 0xF0U ? 3 : 4;
}

/// Columns of one character: those of East Asian scripts and pictures take two. The first of them
/// begins with the byte 0xE1.
std::size_t columns_of(char first) {
  return static_cast<unsigned char>(first) >= 0xE1U ? 2 : 1;
}

std::vector<std::string> characters_of(const std::string& text) {
  std::vector<std::string> all;
  for (std::size_t at = 0; at < text.size(); at += bytes_of(text[at])) {
    all.push_back(text.substr(at, bytes_of(text[at])));
  }
  return all;
}

}  // namespace

std::size_t width_of(const std::string& text) {
  std::size_t count = 0;
  for (const std::string& one : characters_of(text)) count += columns_of(one.front());
  return count;
}

/// Lines of at most so many columns; a word that is longer is broken.
std::vector<std::string> lines_of(const std::string& text, std::size_t most) {
  std::vector<std::string> lines(1);
  std::string word;
  const auto put = [&] {
    std::string& line = lines.back();
    if (!line.empty() && width_of(line) + 1 + width_of(word) > most) lines.emplace_back();
    if (!lines.back().empty()) lines.back() += ' ';
    for (const std::string& one : characters_of(word)) {
      if (width_of(lines.back()) + columns_of(one.front()) > most) lines.emplace_back();
      lines.back() += one;
    }
    word.clear();
  };
  for (const char letter : text) {
    if (letter != ' ') {
      word += letter;
    } else if (!word.empty()) {
      put();
    }
  }
  if (!word.empty()) put();
  return lines;
}

std::size_t columns_in(double width, double size) {
  return static_cast<std::size_t>(width / (size * kLetter));
}

}  // namespace whichlink::render
