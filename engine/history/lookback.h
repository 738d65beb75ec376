#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "moves/setting.h"
#include "record/entries.h"
#include "upkeep/onset.h"

namespace whichlink::history {

/// Chance that a check of this route finds the fault, which lies on it, if it is there.
using ChanceFound =
    std::function<double(FaultId fault, RouteId route, const std::string& listener, bool stressed)>;

/// The same where listener and stress are settled.
using FoundOnRoute = std::function<double(FaultId fault, RouteId route)>;

/// One thing that may have been wrong, and since when.
struct SuspectSince {
  std::string words;
  double share = 0;  ///< chance that it was there on the day it was found
  double rate_per_year = 0;
  std::vector<std::string> routes;  ///< that it lies on
  upkeep::Onset onset;
  std::vector<upkeep::PassedCheck> passes;  ///< checks of its routes that passed since the start
};

struct DoubtfulSession {
  record::Session session;
  double chance = 0;  ///< that a fault was there on one of its routes
};

struct LookBack {
  std::string start;  ///< nothing is known of before: the first day on record
  std::string found;
  std::string last_pass;  ///< of a route that the likeliest cause lies on; empty if none
  std::vector<SuspectSince> suspects;  ///< likeliest first
  double not_traced = 0;  ///< share of causes that lie on no one element, such as crossed plugs
  std::vector<DoubtfulSession> sessions;  ///< worst first
  double expected_spoilt = 0;             ///< expected number of sessions with a fault on their way
};

/// Everything that a look-back starts from.
struct Found {
  std::vector<record::Cause> causes;  ///< of the case, as recorded
  std::string start;                  ///< the record's first day of the installation
  std::string route;                  ///< of the case
  std::optional<double> said_pass;    ///< day on which it last passed, where somebody said
  std::string found;
  std::vector<record::Session> sessions;  ///< to the day it was found
};

/// When each cause began, by its rate and by what checks of its routes would have found
/// (docs/mathematics.md 7.1), and so which sessions are in doubt. A session is in doubt while the
/// fault was there, whether it showed or not: an intermittent fault may have shown at any moment.
/// @param checks_of  every check of a route of that name, oldest first
[[nodiscard]] LookBack look_back(
    const moves::Setting& setting, const Found& found, const ChanceFound& chance_found,
    const std::function<std::vector<record::RouteCheck>(const std::string&)>& checks_of);

}  // namespace whichlink::history
