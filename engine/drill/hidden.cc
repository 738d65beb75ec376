#include <algorithm>

#include "drill/drill.h"
#include "moves/standing.h"

/// What a drill hides, and whether it explains the complaint.
namespace whichlink::drill {
namespace {

std::vector<std::string> fault_names(const moves::Setting& setting) {
  std::vector<std::string> names;
  for (const FaultId fault : setting.faults().ids()) names.push_back(setting.name_of(fault));
  return names;
}

}  // namespace

std::optional<Problem> Drill::hide() {
  const std::vector<std::string> names = fault_names(case_->setting());
  for (const Hidden& hidden : given_.hidden) {
    const auto found = std::find(names.begin(), names.end(), hidden.fault);
    if (found == names.end()) {
      return Problem{hidden.place, "no fault \"" + hidden.fault + "\" in " + given_.model,
                     "a fault as whichlink tables names it", nearest(hidden.fault, names)};
    }
    truth_.states[static_cast<std::size_t>(found - names.begin())] =
        hidden.showing ? belief::kShowing : belief::kQuiet;
  }
  return std::nullopt;
}

std::optional<Problem> Drill::cross() {
  if (given_.crossed.empty()) return std::nullopt;
  const chain::Chain& chain = case_->setting().chain();
  std::vector<std::string> known;
  for (const moves::Arrangement& one :
       moves::arrangements_of(case_->setting(), case_->standing().route)) {
    if (one.crossed.empty()) continue;
    const std::string& first = chain.elements[one.crossed.front()].name;
    const std::string& second = chain.elements[one.crossed.back()].name;
    known.push_back(first);
    known.back() += " with ";
    known.back() += second;
    if (std::vector<std::string>{first, second} == given_.crossed ||
        std::vector<std::string>{second, first} == given_.crossed) {
      truth_.real = one.patching;
      return std::nullopt;
    }
  }
  const std::string asked = given_.crossed.front() + " with " + given_.crossed.back();
  return Problem{given_.crossed_place, "\"" + asked + "\" cannot be crossed on this route",
                 one_of(known), nearest(asked, known)};
}

// The complaint was made while each hidden fault may have been showing.
std::optional<Problem> Drill::explains_complaint() const {
  const moves::Setting& setting = case_->setting();
  const RouteId route = case_->standing().route;
  const belief::Question question = moves::complaint_of(setting, route, truth_.real, listener_);
  const faults::Sense& sense =
      setting.rules().senses[setting.rules().signals[setting.chain().routes[route].signal].sense];
  const std::size_t heard = *sense.find(given_.heard);
  constexpr std::uint64_t kTries = 4000;
  for (std::uint64_t seed = 0; seed < kTries; ++seed) {
    simulate::Truth showing = truth_;
    for (belief::State& state : showing.states) {
      if (state == belief::kQuiet) state = belief::kShowing;
    }
    simulate::Room room(setting, std::move(showing), listener_, seed);
    if (room.complain(route) == heard) return std::nullopt;
  }
  return Problem{given_.heard_place, "what is hidden is not heard as \"" + given_.heard + "\"",
                 "a complaint that it brings", ""};
}

std::vector<std::string> Drill::hidden_words() const {
  const moves::Setting& setting = case_->setting();
  std::vector<std::string> words;
  const moves::Standing start = moves::stand_at_start(setting, case_->standing().route);
  const std::vector<bool> matters = plan::faults_that_matter(setting, start);
  const bool named = !given_.drawn;
  for (const FaultId fault : setting.faults().ids()) {
    if (at_start_.states[fault.value] == belief::kAbsent) continue;
    if (named || matters[fault.value]) words.push_back(setting.words_of(fault));
  }
  for (const moves::Arrangement& one : moves::arrangements_of(setting, case_->standing().route)) {
    if (!one.crossed.empty() && one.patching.plug_in == at_start_.real.plug_in) {
      words.push_back(one.words);
    }
  }
  return words;
}

}  // namespace whichlink::drill
