#include "drill/habit.h"

#include <algorithm>

namespace whichlink::drill {
namespace {

// A spare of this chance to be bad proves nothing (judged).
constexpr double kUnknownState = .1;

template <class Kind>
bool is(const Choice& choice) {
  return choice.move && std::holds_alternative<Kind>(choice.move->action);
}

bool stresses(const Choice& choice) {
  return is<moves::ApplyStress>(choice) || is<moves::StressRoute>(choice);
}

bool only_looks(const moves::Move& move) {
  return !guide::changes_something(move.action) &&
         !std::holds_alternative<moves::Measure>(move.action);
}

/// The questions about a track that the charges need.
class Reading {
 public:
  Reading(const moves::Setting& setting, const guide::Track& track)
      : setting_(setting), track_(track) {}

  /// Nobody has looked yet, and nothing was touched.
  [[nodiscard]] bool untouched() const { return track_.steps().empty(); }
  /// A joint was parted after something wrong was last heard.
  [[nodiscard]] bool replugged_since_heard() const {
    bool replugged = false;
    for (const guide::Step& step : track_.steps()) {
      replugged = !is_wrong(step) && (replugged || unplugs(setting_, step.move));
    }
    return replugged;
  }
  /// Something wrong was heard after a repair.
  [[nodiscard]] bool heard_after_repair() const {
    bool repaired = false;
    for (const guide::Step& step : track_.steps()) {
      repaired = repaired || repairs(setting_, step.move);
      if (repaired && is_wrong(step)) return true;
    }
    return false;
  }
  /// What was heard wrong last differs from what was heard wrong before it.
  [[nodiscard]] bool sounds_otherwise(const std::string& complaint) const {
    std::string before = complaint;
    std::string last = complaint;
    for (const guide::Step& step : track_.steps()) {
      if (!is_wrong(step)) continue;
      before = last;
      last = step.report.heard;
    }
    return last != before;
  }
  /// The last move was meant to mend, and the next is to mend as well.
  [[nodiscard]] bool just_repaired() const {
    const auto& steps = track_.steps();
    return !steps.empty() && repairs(setting_, steps.back().move);
  }
  [[nodiscard]] bool unknown_spare(const Choice& choice) const {
    if (!is<moves::Substitute>(choice)) return false;
    const auto& swap = std::get<moves::Substitute>(choice.move->action);
    const chain::Part& in = setting_.chain().parts[swap.in];
    const auto& states = setting_.rules().spare_states;
    return in.spare && std::any_of(states.begin(), states.end(), [&](const auto& state) {
             return state.name == in.spare_state && state.chance_bad >= kUnknownState;
           });
  }

 private:
  [[nodiscard]] bool is_wrong(const guide::Step& step) const {
    const faults::Sense& sense = setting_.rules().senses[step.move.sense];
    return step.move.heard_on == track_.route() &&
           !std::holds_alternative<moves::Measure>(step.move.action) &&
           step.report.heard != sense.symptoms.front().name && step.report.heard != guide::kNotSure;
  }

  const moves::Setting& setting_;
  const guide::Track& track_;
};

Habit charged_for_closing(const guide::Track& track, const Reading& reading) {
  if (track.standing().temporary) return Habit::putting_back;
  if (track.heard_wrong()) return Habit::calling;
  if (reading.heard_after_repair()) return Habit::second_fault;
  return reading.replugged_since_heard() ? Habit::wiping : Habit::quiet;
}

}  // namespace

const std::vector<std::string>& habit_names() {
  // In the enum's order.
  static const std::vector<std::string> kNames = {
      "listening",     "one change",  "following the plug", "splitting", "known good",
      "wiped contact", "quiet fault", "second fault",       "sides",     "sharing",
      "calling",       "putting back"};
  return kNames;
}

const std::string& name_of(Habit habit) {
  return habit_names()[static_cast<std::size_t>(habit)];
}

std::optional<Habit> habit_of(const std::string& name) {
  const auto found = std::find(habit_names().begin(), habit_names().end(), name);
  if (found == habit_names().end()) return std::nullopt;
  return static_cast<Habit>(found - habit_names().begin());
}

const std::string& words_of(Habit habit) {
  static const std::vector<std::string> kWords = {
      "listen and stress before anything is changed",
      "let one change prove something before the next",
      "cross two plugs and see which side the trouble goes to",
      "ask what splits the suspects best before a part is blamed",
      "put in only what is known to be good",
      "after re-plugging, see whether it was mended or only wiped",
      "do not take quiet for sound: provoke it first",
      "after one cause is mended, ask whether there is another",
      "when it is on the wrong side, follow the plugs by their labels",
      "ask another route that shares part of the way",
      "stop, or call, when the next move costs more than it saves; not before",
      "put everything back before the case is closed"};
  return kWords[static_cast<std::size_t>(habit)];
}

bool unplugs(const moves::Setting& setting, const moves::Move& move) {
  if (const auto* treat = std::get_if<moves::Treat>(&move.action)) {
    const faults::Remedy& remedy = setting.rules().remedies[treat->remedy];
    return remedy.unplugs || remedy.whole_joint;
  }
  return !move.changes.empty() || std::holds_alternative<moves::Measure>(move.action) ||
         std::holds_alternative<moves::TraceLabels>(move.action);
}

bool repairs(const moves::Setting& setting, const moves::Move& move) {
  if (const auto* swap = std::get_if<moves::Substitute>(&move.action)) {
    return setting.chain().parts[swap->in].spare;
  }
  return std::holds_alternative<moves::Treat>(move.action) ||
         std::holds_alternative<moves::TraceLabels>(move.action);
}

Habit charged_to(const moves::Setting& setting, const guide::Track& track,
                 const std::string& complaint, const Choice& chosen, const Choice& advised) {
  const Reading reading(setting, track);
  if (chosen.verdict == plan::Verdict::close) return charged_for_closing(track, reading);
  if (chosen.verdict == plan::Verdict::service || advised.verdict == plan::Verdict::service) {
    return Habit::calling;
  }
  const moves::Move& move = *chosen.move;
  if (is<moves::PutBack>(advised)) return Habit::putting_back;
  if (reading.unknown_spare(chosen)) return Habit::known_good;
  if (is<moves::TakeOut>(chosen) && reading.sounds_otherwise(complaint)) return Habit::second_fault;
  const bool unproved = track.standing().temporary || !track.standing().substituted.empty() ||
                        reading.just_repaired();
  const bool advised_repairs = advised.move && repairs(setting, *advised.move);
  if (unproved && track.heard_wrong() && repairs(setting, move) && !advised_repairs) {
    return Habit::one_change;
  }
  const bool advised_looks = !advised.move || only_looks(*advised.move);
  if (reading.untouched() && guide::changes_something(move.action) && advised_looks) {
    return Habit::listening;
  }
  if (is<moves::TraceLabels>(advised) || is<moves::TraceLabels>(chosen)) return Habit::sides;
  if (is<moves::TryRoute>(advised) || is<moves::TryRoute>(chosen)) return Habit::sharing;
  if (is<moves::CrossPlugs>(advised) || is<moves::CrossPlugs>(chosen)) return Habit::following;
  if (stresses(advised) && !track.heard_wrong()) return Habit::quiet;
  if (!advised.move && !track.heard_wrong()) return Habit::calling;
  return Habit::splitting;
}

}  // namespace whichlink::drill
