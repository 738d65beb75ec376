#include "base/problem.h"

#include <algorithm>
#include <cstddef>

#include "base/utf8.h"

namespace whichlink {
namespace {

// A line stays a line, and text stays text, whatever bytes were given.
std::string printable(const std::string& text) {
  std::string shown;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t begin = at;
    const auto code = next_code_point(text, at);
    if (!code) ++at;
    if (!code || is_control(*code)) {
      shown += '?';
    } else {
      shown.append(text, begin, at - begin);
    }
  }
  return shown;
}

// Optimal string alignment distance (Damerau-Levenshtein without repeated edits of a substring).
std::size_t edits(const std::string& a, const std::string& b) {
  std::vector<std::vector<std::size_t>> cost(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) cost[i][0] = i;
  for (std::size_t j = 0; j <= b.size(); ++j) cost[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t differs = a[i - 1] == b[j - 1] ? 0 : 1;
      cost[i][j] = std::min({cost[i - 1][j] + 1, cost[i][j - 1] + 1, cost[i - 1][j - 1] + differs});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        cost[i][j] = std::min(cost[i][j], cost[i - 2][j - 2] + 1);
      }
    }
  }
  return cost[a.size()][b.size()];
}

}  // namespace

std::string to_line(const Problem& problem) {
  std::string line = problem.place.file;
  if (problem.place.line > 0) {
    line += ":" + std::to_string(problem.place.line) + ":" + std::to_string(problem.place.column);
  }
  if (!line.empty()) line += ": ";
  line += problem.what;
  if (!problem.expected.empty()) line += "; expected " + problem.expected;
  if (!problem.hint.empty()) line += " (did you mean \"" + problem.hint + "\"?)";
  return printable(line);
}

std::string nearest(const std::string& given, const std::vector<std::string>& known) {
  constexpr std::size_t kLongestName = 80;  // the table below is quadratic; longer is no slip
  if (given.empty() || given.size() > kLongestName) return "";
  std::string best;
  std::size_t best_edits = 0;
  for (const std::string& name : known) {
    if (name.size() > kLongestName) continue;
    const std::size_t allowed = std::max(given.size(), name.size()) / 3;
    const std::size_t needed = edits(given, name);
    if (needed <= allowed && (best.empty() || needed < best_edits)) {
      best = name;
      best_edits = needed;
    }
  }
  return best;
}

std::string one_of(const std::vector<std::string>& names) {
  constexpr std::size_t kShown = 8;
  if (names.empty()) return "nothing";
  std::string text = names.front();
  // The one name that is left is no longer than the words that it is left.
  const std::size_t shown = names.size() <= kShown + 1 ? names.size() : kShown;
  for (std::size_t index = 1; index < shown; ++index) {
    const bool last = index + 1 == names.size();
    text += (last ? " or " : ", ") + names[index];
  }
  if (names.size() > shown) {
    text += " or one of " + std::to_string(names.size() - shown) + " more";
  }
  return text;
}

}  // namespace whichlink
