#include "history/lookback.h"

#include <algorithm>
#include <map>

#include "base/moment.h"

namespace whichlink::history {
namespace {

constexpr double kMidday = .5;

// A session is known by its day alone.
double day_of_session(const record::Session& session) {
  return moment_from(session.day)->days + kMidday;
}

// At the end of its day, where no time was said: a check of that morning came before.
double found_day(const std::string& text) {
  const double days = moment_from(text)->days;
  return day_of(text) == text ? days + 1 : days;
}

// Of the record, of its sessions, or of the pass that somebody told of: whichever is first.
std::string first_day(const Found& found) {
  std::string first = day_of(found.start);
  for (const record::Session& session : found.sessions) first = std::min(first, session.day);
  if (found.said_pass) first = std::min(first, day_text(*found.said_pass));
  return first;
}

bool uses_one_of(const record::Session& session, const std::vector<std::string>& routes) {
  return std::any_of(session.routes.begin(), session.routes.end(), [&](const std::string& route) {
    return std::find(routes.begin(), routes.end(), route) != routes.end();
  });
}

}  // namespace

LookBack look_back(
    const moves::Setting& setting, const Found& found, const ChanceFound& chance_found,
    const std::function<std::vector<record::RouteCheck>(const std::string&)>& checks_of) {
  LookBack back;
  back.start = first_day(found);
  back.found = found.found;
  const double start = moment_from(back.start)->days;
  const double end = std::max(start, found_day(found.found));
  std::map<std::string, FaultId> by_name;
  for (const FaultId fault : setting.faults().ids()) by_name[setting.name_of(fault)] = fault;
  std::string latest_pass;
  for (const record::Cause& cause : found.causes) {
    const auto known = by_name.find(cause.fault);
    if (known == by_name.end()) {
      back.not_traced += cause.chance;
      continue;
    }
    const FaultId fault = known->second;
    std::vector<std::string> names;
    std::vector<upkeep::PassedCheck> passes;
    for (const RouteId route : setting.routes_with(fault)) {
      names.push_back(setting.chain().routes[route].name);
      for (const record::RouteCheck& check : checks_of(names.back())) {
        const double day = moment_from(check.at)->days;
        if (check.result != "passed" || day < start || day > end) continue;
        passes.push_back({day, chance_found(fault, route, check.listener, check.stressed)});
        if (back.suspects.empty()) latest_pass = std::max(latest_pass, check.at);
      }
      if (found.said_pass && names.back() == found.route) {
        passes.push_back({*found.said_pass, chance_found(fault, route, "", true)});
        if (back.suspects.empty()) {
          latest_pass = std::max(latest_pass, day_text(*found.said_pass));
        }
      }
    }
    const double per_year = setting.rate_per_year(fault);
    back.suspects.push_back({cause.words, cause.chance, per_year, names,
                             upkeep::Onset(per_year / kDaysPerYear, start, end, passes), passes});
  }
  back.last_pass = latest_pass;
  for (const record::Session& session : found.sessions) {
    const double day = day_of_session(session);
    double sound = 1;
    for (const SuspectSince& suspect : back.suspects) {
      if (!uses_one_of(session, suspect.routes)) continue;
      sound *= 1 - suspect.share * suspect.onset.begun_by(day);
    }
    back.sessions.push_back({session, 1 - sound});
    back.expected_spoilt += 1 - sound;
  }
  std::stable_sort(
      back.sessions.begin(), back.sessions.end(),
      [](const DoubtfulSession& a, const DoubtfulSession& b) { return a.chance > b.chance; });
  return back;
}

}  // namespace whichlink::history
