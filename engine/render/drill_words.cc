#include "render/drill_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/pages.h"

namespace whichlink::render {
namespace {

// From which chance on a place is worth a word, and what counts as a change (judged).
constexpr double kChanceWorthAWord = .03;
constexpr double kClear = .01;
constexpr double kFell = .6;
constexpr double kRose = 1.25;
constexpr double kAlike = .15;
constexpr std::size_t kMostHinted = 6;

/// Why an answer tells what it tells, by the kind of move.
struct Because {
  bool wrong;

  std::string operator()(const moves::Listen& /*unused*/) const {
    return wrong ? "It shows by itself, with nothing touched."
                 : "It is quiet now, with nothing touched. Quiet is not sound.";
  }
  std::string operator()(const moves::ApplyStress& /*unused*/) const {
    return wrong
               ? "It answered while this was stressed."
               : "It was stressed and stayed quiet. Most faults there show under stress, not all.";
  }
  std::string operator()(const moves::StressRoute& /*unused*/) const {
    return wrong ? "It shows while the route is stressed; at which place, that does not say."
                 : "The whole route stood its stresses.";
  }
  std::string operator()(const moves::TryRoute& /*unused*/) const {
    return wrong ? "The other route has it too: look at what both share."
                 : "The other route is well: what both share works, at least just now.";
  }
  std::string operator()(const moves::ConnectDirectly& /*unused*/) const {
    return wrong ? "It goes on with a part of the way left out."
                 : "It is gone with a part of the way left out; or the re-plugging wiped it.";
  }
  std::string operator()(const moves::CrossPlugs& /*unused*/) const {
    return wrong ? "It did not go along with the plug: it lies before the two plugs."
                 : "It is not heard from this source now: it lies beyond the plugs; or the "
                   "re-plugging wiped it.";
  }
  std::string operator()(const moves::Substitute& /*unused*/) const {
    return wrong ? "It goes on with another part in."
                 : "It is gone with another part in. Either the old part is bad, or a contact was "
                   "wiped when it was unplugged.";
  }
  std::string operator()(const moves::PutBack& /*unused*/) const {
    return wrong ? "It is there with everything in its place."
                 : "It is quiet with everything in its place: something on the way was wiped, or "
                   "is only quiet.";
  }
  std::string operator()(const moves::TakeOut& /*unused*/) const {
    return wrong ? "It is there with the old part in again."
                 : "It is quiet with the old part in again: so the part alone was not it.";
  }
  std::string operator()(const moves::Treat& /*unused*/) const {
    return wrong ? "It is still there after the treatment."
                 : "It is gone after the treatment, at least for now.";
  }
  std::string operator()(const moves::Measure& /*unused*/) const {
    return wrong ? "The meter saw it in this part."
                 : "A good reading speaks for this part alone, and only for the moment.";
  }
  std::string operator()(const moves::TraceLabels& /*unused*/) const {
    return wrong ? "It is still there with every plug in its own place."
                 : "It is gone with every plug in its own place.";
  }
};

/// A question that leads to a kind of move.
struct Asking {
  std::string operator()(const moves::Listen& /*unused*/) const {
    return "What do you know if you change nothing and attend once more?";
  }
  std::string operator()(const moves::ApplyStress& /*unused*/) const {
    return "What could bring the trouble out without unplugging anything?";
  }
  std::string operator()(const moves::StressRoute& /*unused*/) const {
    return "It is quiet. What must a route stand before you believe it?";
  }
  std::string operator()(const moves::TryRoute& /*unused*/) const {
    return "Which other route shares a part of this one?";
  }
  std::string operator()(const moves::ConnectDirectly& /*unused*/) const {
    return "What could you leave out of the way, to halve what is left?";
  }
  std::string operator()(const moves::CrossPlugs& /*unused*/) const {
    return "If two plugs changed places, on which side would you expect the trouble?";
  }
  std::string operator()(const moves::Substitute& /*unused*/) const {
    return "Is there a part that you know to be good, and what would it prove in place of the old?";
  }
  std::string operator()(const moves::PutBack& /*unused*/) const {
    return "What is still changed, and do you need it so?";
  }
  std::string operator()(const moves::TakeOut& /*unused*/) const {
    return "If the old part went back in, would the trouble come back with it?";
  }
  std::string operator()(const moves::Treat& /*unused*/) const {
    return "What can be put right here in less time than it takes to be sure of it?";
  }
  std::string operator()(const moves::Measure& /*unused*/) const {
    return "What can be told of a part when it is out of the chain?";
  }
  std::string operator()(const moves::TraceLabels& /*unused*/) const {
    return "Is every plug where its label says?";
  }
};

std::string named(const std::vector<std::string>& names) {
  if (names.size() <= kMostHinted) return listed(names);
  std::vector<std::string> first(names.begin(), names.begin() + kMostHinted);
  return fmt::format("{} and {} more", fmt::join(first, ", "), names.size() - kMostHinted);
}

/// Groups by what happened to them.
struct Sorted {
  std::vector<std::string> clear, less, more, alike, nothing;
};

Sorted sorted_by_shift(const std::vector<drill::Shift>& shifts) {
  Sorted by;
  const auto leads = std::max_element(
      shifts.begin(), shifts.end(), [](const auto& a, const auto& b) { return a.after < b.after; });
  const double leading =
      leads == shifts.end() || leads->before <= 0 ? 0 : leads->after / leads->before;
  for (const drill::Shift& one : shifts) {
    if (one.before >= kChanceWorthAWord && one.after < kClear) {
      by.clear.push_back(one.group);
    } else if (one.before >= kChanceWorthAWord && one.after < kFell * one.before) {
      by.less.push_back(one.group);
    } else if (one.after >= kChanceWorthAWord && one.after > kRose * one.before) {
      by.more.push_back(one.group);
    } else if (one.after >= kChanceWorthAWord) {
      by.nothing.push_back(one.group);
    }
    const double ratio = one.before > 0 ? one.after / one.before : 0;
    if (one.after >= kChanceWorthAWord && std::abs(ratio - leading) <= kAlike * leading) {
      by.alike.push_back(one.group);
    }
  }
  return by;
}

/// What it would do to each group to hear nothing wrong after the move: outcome 0 of every sense.
std::vector<drill::Shift> shifts_if_well(const guide::Case& one, const moves::Move& move) {
  const std::vector<drill::Group> groups = drill::groups_of(one);
  const std::vector<double> before = drill::suspicion(one, groups);
  const std::vector<double> after = drill::suspicion_if(one, groups, move, 0);
  std::vector<drill::Shift> shifts;
  for (std::size_t index = 0; index < groups.size(); ++index) {
    shifts.push_back({groups[index].words, before[index], after[index], false, true});
  }
  return shifts;
}

}  // namespace

std::string answer_words(const drill::Drill& drill, const drill::Turn& turn) {
  const moves::Setting& setting = drill.isolation().setting();
  const moves::Move& move = *turn.chosen.move;
  const faults::Signal& signal =
      setting.rules().signals[setting.chain().routes[move.heard_on].signal];
  return report_words(setting.rules(), signal, move.sense, turn.outcome);
}

std::vector<std::string> told_words(const drill::Drill& /*drill*/, const drill::Turn& turn) {
  std::vector<std::string> sentences;
  sentences.push_back(std::visit(Because{turn.heard_wrong}, turn.chosen.move->action));
  const Sorted by = sorted_by_shift(turn.shifts);
  const auto say = [&](const std::string& lead, const std::vector<std::string>& names) {
    if (!names.empty()) sentences.push_back(lead + ": " + named(names) + ".");
  };
  say("In the clear", by.clear);
  say("Less likely", by.less);
  say("More likely", by.more);
  say("It says nothing of", by.nothing);
  if (by.more.size() > 1 && by.alike.size() > 1) {
    sentences.push_back("It does not tell these apart: " + named(by.alike) + ".");
  }
  if (sentences.size() == 1 && !turn.told_nothing) {
    sentences.emplace_back("It hardly changes what is likely.");
  }
  if (turn.told_nothing) sentences.emplace_back("Whatever the answer, it could tell nothing new.");
  return sentences;
}

std::string question_words(const drill::Drill& drill) {
  const drill::Choice& advised = drill.values().advised();
  if (advised.move) return std::visit(Asking{}, advised.move->action);
  return advised.verdict == plan::Verdict::close
             ? "What is left to find, and is it worth another minute?"
             : "What would the next moves cost, and what would a call for service cost?";
}

std::string choice_words(const drill::Drill& drill, const drill::Choice& choice) {
  if (choice.move) return moves::short_words(drill.isolation().setting(), *choice.move);
  return choice.verdict == plan::Verdict::close ? "close the case" : "call service";
}

std::string split_words(const drill::Drill& drill) {
  const drill::Choice& advised = drill.values().advised();
  if (!advised.move) {
    return fmt::format("The chance that something is still wrong is {}.",
                       percent(drill.values().something_wrong()));
  }
  const guide::Case& one = drill.isolation();
  const plan::Candidate* candidate = drill.values().candidate(advised.move->name);
  if (candidate == nullptr) return question_words(drill);
  const double well = candidate->prediction.front().chance;
  std::string text = fmt::format(
      "There is a move that splits the suspects by {:.2f} bit: {} to hear nothing wrong after it, "
      "{} to hear something.",
      one.belief().bits(one.standing(), *advised.move), percent(well), percent(1 - well));
  std::vector<std::string> told;
  const auto say = [&](const std::string& lead, const std::vector<std::string>& names) {
    if (!names.empty()) told.push_back(lead + ": " + named(names));
  };
  const Sorted by = sorted_by_shift(shifts_if_well(one, *advised.move));
  say("in the clear", by.clear);
  say("less likely", by.less);
  say("more likely", by.more);
  say("no news of", by.nothing);
  if (told.empty()) return text;
  return text + fmt::format(" If nothing is wrong then, {}.", fmt::join(told, "; "));
}

}  // namespace whichlink::render
