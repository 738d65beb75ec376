#pragma once

#include <gtest/gtest.h>

#include <memory>
#include <string>
#include <vector>

#include "guide/case.h"
#include "load/load.h"

/// Shipped installations and small questions about a case, for the tests of several folders.
namespace whichlink::testing {

inline const std::string kSource = WHICHLINK_SOURCE_DIR;

inline moves::Installation shipped(const std::string& name) {
  auto loaded = load::installation_file(kSource + "/models/" + name + ".yaml", kSource + "/rules");
  if (!loaded) {
    for (const Problem& problem : loaded.error()) ADD_FAILURE() << to_line(problem);
    return {};
  }
  return std::move(*loaded);
}

/// The installation with nothing that can be bad and ears that never slip.
inline moves::Installation without_faults(moves::Installation installation) {
  faults::Rules& rules = installation.rules;
  for (const ModeId mode : rules.modes.ids()) rules.modes[mode].rate.mid_per_year = 0;
  rules.unlisted.rate.mid_per_year = 0;
  if (rules.crossing) rules.crossing->rate.mid_per_year = 0;
  for (faults::SpareState& state : rules.spare_states) state.chance_bad = 0;
  for (const SenseId id : rules.senses.ids()) {
    for (faults::Listener& one : rules.senses[id].listeners) {
      for (std::size_t row = 0; row < one.report.size(); ++row) {
        for (std::size_t column = 0; column < one.report.size(); ++column) {
          one.report[row][column] = row == column ? 1 : 0;
        }
      }
    }
  }
  return installation;
}

struct Told {
  std::string move, heard;
};

inline std::unique_ptr<guide::Case> open_case(const moves::Installation& installation,
                                              const std::string& route,
                                              const guide::Report& complaint,
                                              const std::vector<Told>& done = {}, double days = 7) {
  guide::CaseFile events;
  events.route = route;
  events.complaint = complaint;
  events.days_since_pass = days;
  for (const Told& one : done) events.done.push_back({one.move, {one.heard, {}}, {}});
  auto opened = guide::Case::open(installation, events);
  if (!opened) {
    ADD_FAILURE() << to_line(opened.error().front());
    return nullptr;
  }
  return std::move(*opened);
}

/// Sum of the suspects' chances that a condition picks.
template <class Picks>
double chance_of(const guide::Case& one, Picks picks) {
  double sum = 0;
  for (const guide::Suspect& suspect : one.suspects(one.picture())) {
    if (picks(suspect)) sum += suspect.chance;
  }
  return sum;
}

inline double family(const guide::Case& one, const std::vector<std::string>& families) {
  return chance_of(one, [&](const guide::Suspect& suspect) {
    return std::find(families.begin(), families.end(), suspect.family) != families.end();
  });
}

/// Suspects at elements whose name begins so.
inline double at(const guide::Case& one, const std::string& element) {
  return chance_of(one, [&](const guide::Suspect& suspect) {
    return suspect.fault && suspect.name.rfind(element, 0) == 0;
  });
}

inline std::string first_suspect(const guide::Case& one) {
  return one.suspects(one.picture()).front().name;
}

}  // namespace whichlink::testing
