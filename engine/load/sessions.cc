#include <algorithm>
#include <cctype>
#include <set>

#include "base/moment.h"
#include "load/load.h"

namespace whichlink::load {
namespace {

constexpr std::size_t kLongestCode = 24;
constexpr std::size_t kMostSessions = 1'000'000;

bool is_digit(char letter) {
  return letter >= '0' && letter <= '9';
}

// A code is no name, so it holds a digit; and no date, which may be one of birth.
bool is_code(const std::string& text) {
  const auto fits = [](char letter) {
    return std::isalnum(static_cast<unsigned char>(letter)) != 0 || letter == '-';
  };
  const bool is_fine = !text.empty() && text.size() <= kLongestCode &&
                       std::all_of(text.begin(), text.end(), fits) &&
                       std::any_of(text.begin(), text.end(), is_digit);
  const auto digits = std::count_if(text.begin(), text.end(), is_digit);
  const bool only_digits_and_dashes = std::all_of(
      text.begin(), text.end(), [](char letter) { return is_digit(letter) || letter == '-'; });
  const bool has_dash = text.find('-') != std::string::npos;
  const bool like_a_date = only_digits_and_dashes && (has_dash || digits == 6 || digits == 8);
  return is_fine && !like_a_date;
}

std::vector<std::string> split(const std::string& text, char separator) {
  std::vector<std::string> pieces{""};
  for (const char letter : text) {
    if (letter == separator) {
      pieces.emplace_back();
    } else {
      pieces.back() += letter;
    }
  }
  for (std::string& piece : pieces) {
    piece.erase(0, piece.find_first_not_of(" \t"));
    piece.erase(piece.find_last_not_of(" \t") + 1);
  }
  return pieces;
}

}  // namespace

Result<record::Session> session_from(const record::Session& given, const chain::Chain& chain,
                                     const Place& place) {
  if (!is_code(given.code)) {
    return tl::unexpected(
        Problems{{place, "\"" + given.code + "\" is no session code",
                  "up to 24 letters, digits and dashes, a digit among them, and no date", ""}});
  }
  if (!moment_from(given.day) || day_of(given.day) != given.day) {
    return tl::unexpected(
        Problems{{place, "\"" + given.day + "\" is no day", "one as 2026-11-26", ""}});
  }
  std::vector<std::string> names;
  for (const chain::Route& route : chain.routes) names.push_back(route.name);
  if (given.routes.empty()) {
    return tl::unexpected(
        Problems{{place, "session " + given.code + " used no route", one_of(names), ""}});
  }
  for (const std::string& route : given.routes) {
    if (std::find(names.begin(), names.end(), route) != names.end()) continue;
    return tl::unexpected(
        Problems{{place, "unknown route \"" + route + "\"", one_of(names), nearest(route, names)}});
  }
  return given;
}

Result<std::string> trainee_code(const std::string& given, const Place& place) {
  if (is_code(given)) return given;
  return tl::unexpected(
      Problems{{place, "\"" + given + "\" is no trainee's code",
                "up to 24 letters, digits and dashes, a digit among them, and no date", ""}});
}

Result<std::vector<record::Session>> sessions_from(const std::string& text,
                                                   const chain::Chain& chain,
                                                   const std::string& file) {
  std::vector<record::Session> sessions;
  std::set<std::string> codes;
  int number = 0;
  for (std::string line : split(text, '\n')) {
    const Place place{file, ++number, 1};
    if (!line.empty() && line.back() == '\r') line.pop_back();
    if (line.empty() || line == "code,day,routes") continue;
    const std::vector<std::string> fields = split(line, ',');
    if (fields.size() != 3) {
      return tl::unexpected(Problems{{place, std::to_string(fields.size()) + " fields",
                                      "three: code,day,routes (routes parted by semicolons)", ""}});
    }
    auto session = session_from({fields[0], fields[1], split(fields[2], ';')}, chain, place);
    if (!session) return tl::unexpected(session.error());
    if (!codes.insert(session->code).second) {
      return tl::unexpected(Problems{
          {place, "session " + session->code + " stands here twice", "each code once", ""}});
    }
    sessions.push_back(std::move(*session));
    if (sessions.size() > kMostSessions) {
      return tl::unexpected(Problems{{place, "too many sessions", "at most 1000000", ""}});
    }
  }
  if (sessions.empty()) {
    return tl::unexpected(Problems{{{file, 1, 1}, "no session", "lines as code,day,routes", ""}});
  }
  return sessions;
}

Result<std::vector<record::Session>> sessions_file(const std::string& file,
                                                   const chain::Chain& chain) {
  const Result<std::string> text = read_file(file);
  if (!text) return tl::unexpected(text.error());
  return sessions_from(*text, chain, file);
}

}  // namespace whichlink::load
