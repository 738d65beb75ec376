#pragma once

#include <string>
#include <tl/expected.hpp>
#include <tuple>
#include <vector>

namespace whichlink {

/// Where in a file something stands. Line and column count from 1; 0 means the file as a whole.
struct Place {
  std::string file;
  int line = 0;
  int column = 0;
  friend bool operator==(const Place&, const Place&) = default;
  friend bool operator<(const Place& a, const Place& b) {
    return std::tie(a.file, a.line, a.column) < std::tie(b.file, b.line, b.column);
  }
};

/// One thing that is wrong with what a person wrote.
struct Problem {
  Place place;
  std::string what;      ///< what is wrong, without a full stop
  std::string expected;  ///< what was expected, without a full stop; may be empty
  std::string hint;      ///< the nearest known name, or empty
  friend bool operator==(const Problem&, const Problem&) = default;
  friend bool operator<(const Problem& a, const Problem& b) {
    return std::tie(a.place, a.what, a.expected, a.hint) <
           std::tie(b.place, b.what, b.expected, b.hint);
  }
};
using Problems = std::vector<Problem>;

/// A value, or everything that is wrong with the input it was to be made from (never empty).
template <class Value>
using Result = tl::expected<Value, Problems>;

/// One line: `file:line:column: what; expected what (did you mean "hint"?)`.
/// Control characters and bytes that are no UTF-8 are shown as `?`: a line stays a line whatever
/// was given.
[[nodiscard]] std::string to_line(const Problem& problem);

/// The name nearest to `given` by edit distance (insert, delete, replace, swap of neighbours), if
/// it is near enough to be a slip: at most one edit per three characters of the longer name. Ties
/// go to the first. Example: nearest("haedset cord", {"patch cord", "headset cord"}) gives "headset
/// cord".
[[nodiscard]] std::string nearest(const std::string& given, const std::vector<std::string>& known);

/// "a, b or c"; of ten names and more the first eight, then "or one of N more".
[[nodiscard]] std::string one_of(const std::vector<std::string>& names);

}  // namespace whichlink
