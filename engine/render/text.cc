#include "render/text.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>

#include "render/glyphs.h"

namespace whichlink::render {
namespace {

std::string painted(const std::string& text, const char* code, const Style& style) {
  return style.colour ? fmt::format("\x1b[{}m{}\x1b[0m", code, text) : text;
}

std::string repeated(const std::string& sign, std::size_t times) {
  std::string text;
  for (std::size_t count = 0; count < times; ++count) text += sign;
  return text;
}

}  // namespace

std::size_t columns(const std::string& text) {
  std::size_t count = 0;
  bool in_colour = false;  // between an escape and the m that ends it
  for (std::size_t offset = 0; offset < text.size();) {
    const char letter = text[offset];
    if (letter == '\x1b') in_colour = true;
    const std::size_t cells = cells_at(text, offset);
    if (!in_colour) count += cells;
    if (letter == 'm') in_colour = false;
  }
  return count;
}

std::string wrapped(const std::string& text, const std::string& first, std::size_t width) {
  std::istringstream words(text);
  const std::string indent(columns(first), ' ');
  std::string out = first;
  std::size_t used = columns(first);
  bool at_start = true;
  for (std::string word; words >> word;) {
    if (!at_start && used + 1 + columns(word) > width) {
      out += "\n" + indent;
      used = columns(indent);
      at_start = true;
    }
    if (!at_start) {
      out += ' ';
      ++used;
    }
    out += word;
    used += columns(word);
    at_start = false;
  }
  return out + "\n";
}

std::string labelled(const std::string& label, const std::string& text, const Style& style) {
  const std::string body = wrapped(text, std::string(kLabelColumns, ' '), style.width);
  return bold(padded("  " + label, kLabelColumns), style) + body.substr(kLabelColumns);
}

std::string cut(const std::string& text, std::size_t width, const Style& style) {
  if (columns(text) <= width) return text;
  const std::string dots =
      style.unicode && width > 0 ? "…" : std::string(std::min<std::size_t>(width, 2), '.');
  const std::size_t keep = width > columns(dots) ? width - columns(dots) : 0;
  std::size_t used = 0;
  std::size_t end = 0;
  for (std::size_t offset = 0; offset < text.size(); end = offset) {
    used += cells_at(text, offset);
    if (used > keep) break;
  }
  return text.substr(0, end) + dots;
}

std::string padded(const std::string& text, std::size_t width) {
  const std::size_t used = columns(text);
  return used >= width ? text : text + std::string(width - used, ' ');
}

std::string bar(double share, std::size_t width, const Style& style) {
  const double bounded = std::clamp(share, 0.0, 1.0);
  const auto eighths =
      static_cast<std::size_t>(std::lround(bounded * static_cast<double>(width) * 8));
  if (!style.unicode) return repeated("#", (eighths + 4) / 8);
  static constexpr std::array kParts = {"", "▏", "▎", "▍", "▌", "▋", "▊", "▉"};
  return repeated("█", eighths / 8) + kParts[eighths % 8];
}

std::string percent(double share) {
  if (share < 0.005) return "<1 %";
  if (share >= 0.995 && share < 1) return ">99 %";
  return fmt::format("{} %", std::lround(share * 100));
}

std::string minutes(double duration_minutes) {
  return duration_minutes < 9.95 ? fmt::format("{:.1f} min", duration_minutes)
                                 : fmt::format("{:.0f} min", duration_minutes);
}

std::string heading(const std::string& text, const Style& style) {
  return painted(text, "1", style) + "\n";
}
std::string bold(const std::string& text, const Style& style) {
  return painted(text, "1", style);
}
std::string dim(const std::string& text, const Style& style) {
  return painted(text, "2", style);
}
std::string warning(const std::string& text, const Style& style) {
  return painted(text, "33", style);
}

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t index = 0; index < names.size(); ++index) {
    if (index > 0) text += index + 1 == names.size() ? " and " : ", ";
    text += names[index];
  }
  return text;
}

}  // namespace whichlink::render
