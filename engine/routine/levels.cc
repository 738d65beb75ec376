#include "routine/levels.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace whichlink::routine {
namespace {

constexpr double kLoudestDb = 300;
// A limit of 3 dB holds for a reading of 77 or 71 against 74, whatever the doubles do.
constexpr double kRounding = 1e-9;

std::string plain(double value) {
  return fmt::format("{:g}", value);
}

}  // namespace

Result<const faults::ReferenceLevels*> levels_of(const moves::Setting& setting, RouteId route,
                                                 const std::string& set, const Place& place) {
  const chain::Route& one = setting.chain().routes[route];
  std::vector<std::string> names;
  for (const faults::ReferenceLevels& levels : setting.rules().routine->levels) {
    if (levels.signal != one.signal) continue;
    if (set.empty() || levels.name == set) return &levels;
    names.push_back(levels.name);
  }
  if (names.empty()) {
    return tl::unexpected(
        Problems{{place, "no reference levels for " + one.name, "a symptom", ""}});
  }
  return tl::unexpected(Problems{{place, "no reference levels \"" + set + "\" for " + one.name,
                                  one_of(names), nearest(set, names)}});
}

Result<Level> level_of(const moves::Setting& setting, RouteId route, const std::string& set,
                       double hz, double measured_db, const Place& place) {
  const auto levels = levels_of(setting, route, set, place);
  if (!levels) return tl::unexpected(levels.error());
  const faults::ReferenceLevels& found = **levels;
  const auto at = std::find_if(found.reference.begin(), found.reference.end(),
                               [&](const faults::AtFrequency& one) { return one.hz == hz; });
  if (at == found.reference.end()) {
    std::vector<std::string> known;
    for (const faults::AtFrequency& one : found.reference) known.push_back(plain(one.hz));
    return tl::unexpected(
        Problems{{place, "no reference level at " + plain(hz) + " Hz", one_of(known), ""}});
  }
  if (!(std::abs(measured_db) <= kLoudestDb)) {
    return tl::unexpected(
        Problems{{place, "a reading of " + plain(measured_db) + " dB", "-300 to 300 dB", ""}});
  }
  const auto limit = std::find_if(found.within.begin(), found.within.end(),
                                  [&](const faults::AtFrequency& one) { return hz <= one.hz; });
  Level level;
  level.route = setting.chain().routes[route].name;
  level.set = found.name;
  level.hz = hz;
  level.measured_db = measured_db;
  level.expected_db = found.dial_db + at->db;
  level.deviation_db = measured_db - level.expected_db;
  level.within_db = limit == found.within.end() ? found.within.back().db : limit->db;
  level.passed = std::abs(level.deviation_db) <= level.within_db + kRounding;
  if (!level.passed) level.drop_db = std::abs(level.deviation_db);
  return level;
}

}  // namespace whichlink::routine
