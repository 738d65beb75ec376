#include "arrows.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <set>
#include <sstream>

namespace whichlink::arrows {
namespace {

/// A library from outside, and the folders under engine/ that may include it. cli/ may use them
/// all.
struct Library {
  std::string_view start;  ///< how the name between the brackets starts
  std::vector<std::string_view> rooms;
};

const std::vector<Library>& libraries() {
  static const std::vector<Library> all = {
      {"yaml-cpp/", {"load"}},
      {"boost/graph/", {"chain"}},
      {"boost/math/", {"upkeep"}},
      {"nlohmann/", {"render"}},
      {"spdlog/", {}},
      {"CLI/", {}},
      {"fstream", {"load"}},
      {"filesystem", {"load"}},
      {"iostream", {}},
      {"cstdio", {}},
      {"stdio.h", {}},
      {"ctime", {}},
      {"time.h", {}},
  };
  return all;
}

/// Names that print, or that read the clock, the environment or chance, however they are used.
constexpr std::array kNeverNamed =
    std::to_array<std::string_view>({"cout",         "cerr",          "clog",
                                     "wcout",        "wcerr",         "stdout",
                                     "stderr",       "printf",        "fprintf",
                                     "vprintf",      "vfprintf",      "puts",
                                     "fputs",        "putchar",       "perror",
                                     "getenv",       "secure_getenv", "environ",
                                     "system_clock", "steady_clock",  "high_resolution_clock",
                                     "utc_clock",    "clock_gettime", "gettimeofday",
                                     "localtime",    "gmtime",        "random_device",
                                     "srand"});

/// Names too ordinary to refuse, unless they are called: time(nullptr), fmt::print(...).
constexpr std::array kNeverCalled =
    std::to_array<std::string_view>({"time", "clock", "rand", "print", "println", "system"});

bool in_name(char letter) {
  return std::isalnum(static_cast<unsigned char>(letter)) != 0 || letter == '_';
}

std::vector<std::string> split(std::string_view text, char separator) {
  std::vector<std::string> pieces;
  std::istringstream stream{std::string(text)};
  for (std::string piece; std::getline(stream, piece, separator);) {
    if (!piece.empty()) pieces.push_back(piece);
  }
  return pieces;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && std::isspace(static_cast<unsigned char>(text.front())) != 0) {
    text.remove_prefix(1);
  }
  return text;
}

/// What the line includes, with its quotes or brackets; empty where it includes nothing.
std::string_view included(std::string_view line) {
  line = trimmed(line);
  if (!line.starts_with('#')) return {};
  line = trimmed(line.substr(1));
  if (!line.starts_with("include")) return {};
  line = trimmed(line.substr(std::string_view("include").size()));
  if (line.empty() || (line.front() != '"' && line.front() != '<')) return {};
  const std::size_t end = line.find(line.front() == '"' ? '"' : '>', 1);
  return end == std::string_view::npos ? std::string_view{} : line.substr(0, end + 1);
}

/// Blanks out from `begin` to `end`, leaving the line breaks.
void blank(std::string& text, std::size_t begin, std::size_t end) {
  for (std::size_t index = begin; index < std::min(end, text.size()); ++index) {
    if (text[index] != '\n') text[index] = ' ';
  }
}

/// Where the string or character that opens at `open` ends: one past its closing quote.
std::size_t past_quoted(const std::string& text, std::size_t open) {
  std::size_t index = open + 1;
  while (index < text.size() && text[index] != text[open] && text[index] != '\n') {
    index += text[index] == '\\' ? 2 : 1;
  }
  return index + 1;
}

/// Where the raw string whose quote opens at `open` ends: one past its closing quote.
std::size_t past_raw(const std::string& text, std::size_t open) {
  const std::size_t bracket = text.find('(', open);
  if (bracket == std::string::npos) return text.size();
  const std::string close = ")" + text.substr(open + 1, bracket - open - 1) + "\"";
  const std::size_t end = text.find(close, bracket);
  return end == std::string::npos ? text.size() : end + close.size();
}

bool opens_raw(const std::string& text, std::size_t quote) {
  if (text[quote] != '"' || quote == 0 || text[quote - 1] != 'R') return false;
  std::size_t begin = quote - 1;  // R, LR, uR, UR or u8R, and nothing of a name before it
  while (begin > 0 && in_name(text[begin - 1])) --begin;
  const std::string prefix = text.substr(begin, quote - 1 - begin);
  return prefix.empty() || prefix == "L" || prefix == "u" || prefix == "U" || prefix == "u8";
}

std::string wrong_include(const std::string& room, const std::string& own_folder,
                          std::string_view name, const Table& table) {
  const std::string inside(name.substr(1, name.size() - 2));
  if (inside.find("../") != std::string::npos) return "includes by \"../\"; say room/file.h";
  if (name.front() == '<') {
    for (const Library& library : libraries()) {
      const bool whole = library.start.back() != '/';
      const bool meant = whole ? inside == library.start : inside.starts_with(library.start);
      const bool may =
          std::find(library.rooms.begin(), library.rooms.end(), room) != library.rooms.end();
      if (!room.empty() && meant && !may) return "<" + inside + "> is not for room " + room;
    }
    return {};
  }
  const std::size_t slash = inside.find('/');
  const std::string other = slash == std::string::npos ? "" : inside.substr(0, slash);
  if (own_folder != "engine") return {};
  if (other.empty()) return "includes \"" + inside + "\"; say room/file.h";
  if (other == room) return {};
  if (!table.contains(other)) return "\"" + inside + "\" is in no room of the table";
  const auto row = table.find(room);
  const bool may = row != table.end() &&
                   std::find(row->second.begin(), row->second.end(), other) != row->second.end();
  return may ? "" : "room " + room + " may not include from " + other;
}

/// The names of the line that a room must not use.
std::vector<std::string> wrong_names(std::string_view line) {
  std::vector<std::string> wrong;
  for (std::size_t index = 0; index < line.size();) {
    if (!in_name(line[index])) {
      ++index;
      continue;
    }
    const std::size_t begin = index;
    while (index < line.size() && in_name(line[index])) ++index;
    const std::string_view name = line.substr(begin, index - begin);
    const bool called = trimmed(line.substr(index)).starts_with('(');
    const bool member =
        (begin >= 1 && line[begin - 1] == '.') || (begin >= 2 && line.substr(begin - 2, 2) == "->");
    const bool never = std::find(kNeverNamed.begin(), kNeverNamed.end(), name) != kNeverNamed.end();
    const bool not_so =
        called && !member &&
        std::find(kNeverCalled.begin(), kNeverCalled.end(), name) != kNeverCalled.end();
    if (never || not_so) {
      wrong.push_back("engine/ neither prints nor reads clock, environment or chance: " +
                      std::string(name));
    }
  }
  return wrong;
}

bool reaches(const Table& table, const std::string& from, const std::string& aim,
             std::set<std::string>& seen) {
  const auto row = table.find(from);
  if (row == table.end() || !seen.insert(from).second) return false;
  return std::any_of(row->second.begin(), row->second.end(), [&](const std::string& other) {
    return other == aim || reaches(table, other, aim, seen);
  });
}

}  // namespace

Table table_from(std::string_view rows) {
  Table table;
  for (const std::string& row : split(rows, ' ')) {
    const std::size_t colon = row.find(':');
    table[row.substr(0, colon)] =
        colon == std::string::npos ? std::vector<std::string>{} : split(row.substr(colon + 1), ',');
  }
  return table;
}

std::vector<std::string> loops_in(const Table& table) {
  std::vector<std::string> wrong;
  for (const auto& [room, uses] : table) {
    for (const std::string& other : uses) {
      if (!table.contains(other)) wrong.push_back(room + " names an unknown room: " + other);
    }
    std::set<std::string> seen;
    if (reaches(table, room, room, seen)) wrong.push_back(room + " leads back to itself");
  }
  return wrong;
}

std::string code_only(std::string_view given) {
  std::string text(given);
  for (std::size_t index = 0; index < text.size();) {
    const std::string_view rest = std::string_view(text).substr(index);
    const bool line_start = index == 0 || text[index - 1] == '\n';
    std::size_t end = index + 1;
    if (line_start && !included(rest.substr(0, rest.find('\n'))).empty()) {
      const std::string_view line = rest.substr(0, rest.find('\n'));
      end = index + std::min({line.size(), line.find("//"), line.find("/*")});  // the name is kept
    } else if (rest.starts_with("//")) {
      end = index + std::min(rest.size(), rest.find('\n'));
      blank(text, index, end);
    } else if (rest.starts_with("/*")) {
      const std::size_t close = text.find("*/", index + 2);
      end = close == std::string::npos ? text.size() : close + 2;
      blank(text, index, end);
    } else if (text[index] == '"') {
      end = opens_raw(text, index) ? past_raw(text, index) : past_quoted(text, index);
      blank(text, index + 1, end - 1);
    } else if (text[index] == '\'' && (index == 0 || !in_name(text[index - 1]))) {
      end = past_quoted(text, index);  // after a letter or digit it parts digits: 1'000
      blank(text, index + 1, end - 1);
    }
    index = end;
  }
  return text;
}

std::vector<std::string> complaints(const std::string& file, std::string_view text,
                                    const Table& table) {
  const std::vector<std::string> folders = split(file, '/');
  const std::string own_folder = folders.empty() ? "" : folders.front();
  const bool engine = own_folder == "engine" && folders.size() > 2;
  const std::string room = engine ? folders[1] : "";
  std::vector<std::string> wrong;
  const std::string code = code_only(text);
  std::istringstream lines{code};
  int number = 0;
  for (std::string line; std::getline(lines, line);) {
    ++number;
    const std::string where = file + ":" + std::to_string(number) + ": ";
    if (const std::string_view name = included(line); !name.empty()) {
      const std::string what = wrong_include(room, own_folder, name, table);
      if (!what.empty()) wrong.push_back(where + what);
    } else if (engine) {
      for (const std::string& what : wrong_names(line)) wrong.push_back(where + what);
    }
  }
  return wrong;
}

}  // namespace whichlink::arrows
