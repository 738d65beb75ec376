#include "base/moment.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <chrono>
#include <cmath>

namespace whichlink {
namespace {

constexpr std::size_t kDayLength = 10;   // YYYY-MM-DD
constexpr std::size_t kMinutesEnd = 16;  // ...THH:MM
constexpr std::size_t kSecondsEnd = 19;  // ...THH:MM:SS
constexpr int kFirstYear = 1970;

// Digits where the pattern has 0, and its own characters elsewhere.
bool is_like(const std::string& text, const std::string& pattern) {
  return text.size() <= pattern.size() &&
         std::equal(text.begin(), text.end(), pattern.begin(), [](char one, char wanted) {
           return wanted == '0' ? std::isdigit(static_cast<unsigned char>(one)) != 0
                                : one == wanted;
         });
}

unsigned number_at(const std::string& text, std::size_t at, std::size_t digits) {
  constexpr unsigned kTen = 10;
  unsigned value = 0;
  for (std::size_t index = at; index < at + digits; ++index) {
    value = value * kTen + static_cast<unsigned>(text[index] - '0');
  }
  return value;
}

}  // namespace

std::optional<Moment> moment_from(const std::string& text) {
  const bool whole =
      text.size() == kDayLength || text.size() == kMinutesEnd || text.size() == kSecondsEnd;
  if (!whole || !is_like(text, "0000-00-00T00:00:00")) return std::nullopt;
  const std::chrono::year_month_day day{std::chrono::year{static_cast<int>(number_at(text, 0, 4))},
                                        std::chrono::month{number_at(text, 5, 2)},
                                        std::chrono::day{number_at(text, 8, 2)}};
  if (!day.ok() || static_cast<int>(day.year()) < kFirstYear) return std::nullopt;
  const unsigned hours = text.size() > kDayLength ? number_at(text, 11, 2) : 0;
  const unsigned minutes = text.size() > kDayLength ? number_at(text, 14, 2) : 0;
  const unsigned seconds = text.size() > kMinutesEnd ? number_at(text, 17, 2) : 0;
  constexpr unsigned kHours = 24;
  constexpr unsigned kSixty = 60;
  if (hours >= kHours || minutes >= kSixty || seconds >= kSixty) return std::nullopt;
  const double of_day = ((hours * kSixty + minutes) * kSixty + seconds) /
                        static_cast<double>(kHours * kSixty * kSixty);
  return Moment{static_cast<double>(std::chrono::sys_days(day).time_since_epoch().count()) + of_day,
                text};
}

std::string day_of(const std::string& moment_text) {
  return moment_text.substr(0, kDayLength);
}

std::string day_text(double days_since_1970) {
  const std::chrono::year_month_day day{
      std::chrono::sys_days(std::chrono::days(static_cast<int>(std::floor(days_since_1970))))};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()),
                     static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
}

}  // namespace whichlink
