#pragma once

#include <optional>
#include <string>

namespace whichlink {

/// Of the Julian year, which rates a year are spread over.
inline constexpr double kDaysPerYear = 365.25;

/// A day of the calendar or a time on it, as ISO 8601 writes it, in the local time of the room:
/// "2026-11-26" or "2026-11-26T08:30:00". Texts of one form sort as the times do.
struct Moment {
  double days = 0;  ///< since 1970-01-01, with the time of day as a fraction
  std::string text;
};

/// Reads "YYYY-MM-DD", with or without "THH:MM" or "THH:MM:SS"; nothing if it is no such text, or a
/// day that no calendar has. Years 1970 to 9999.
[[nodiscard]] std::optional<Moment> moment_from(const std::string& text);

/// The day alone: "2026-11-26".
[[nodiscard]] std::string day_of(const std::string& moment_text);

/// So many whole days later (earlier if negative), as "YYYY-MM-DD".
[[nodiscard]] std::string day_text(double days_since_1970);

}  // namespace whichlink
