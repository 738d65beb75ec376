#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

/// Reads sources as text and complains about what a room must not do: include a room that its row
/// of engine/rooms.cmake does not name, use a library that belongs to another room, print, or read
/// the clock, the environment or chance. The build cannot see the second half of that list, and
/// names the first half only as a missing file.
namespace whichlink::arrows {

/// Each room of the engine, and the rooms that it may include from.
using Table = std::map<std::string, std::vector<std::string>>;

/// The table from rows "room:other,other" that stand apart by blanks, as the build hands them over.
[[nodiscard]] Table table_from(std::string_view rows);

/// Rows that name an unknown room, themselves, or a room that in the end leads back to them.
[[nodiscard]] std::vector<std::string> loops_in(const Table& table);

/// The text with comments, and what stands between quotes, turned into blanks; line breaks and the
/// quoted names of #include lines stay. Raw strings and digit separators are understood.
[[nodiscard]] std::string code_only(std::string_view text);

/// What is wrong with one file, as "file:line: what", by line.
/// @param file  relative to the repository, with "/": engine/plan/policy.cc
[[nodiscard]] std::vector<std::string> complaints(const std::string& file, std::string_view text,
                                                  const Table& table);

}  // namespace whichlink::arrows
