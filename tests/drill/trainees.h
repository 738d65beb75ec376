#pragma once

#include <algorithm>
#include <functional>
#include <set>

#include "base/random.h"
#include "support.h"

/// Scripted trainees with known habits. Each is asked for one event at a time.
namespace whichlink::testing {

using Habits = std::function<drill::Event(const drill::Drill&)>;

struct Trainee {
  std::string name;
  std::optional<drill::Habit> habit;
  bool diagnosed_by_most = false;  ///< most of what they lose must be charged to it
  std::function<Habits(std::uint64_t seed)> begin;
};

inline drill::Event event_of(const drill::Choice& choice) {
  if (choice.move) return made(choice.move->name);
  return said(choice.verdict == plan::Verdict::close ? drill::Say::close : drill::Say::service);
}
inline drill::Event as_planned(const drill::Drill& drill) {
  return event_of(drill.values().advised());
}

template <class Kind>
bool is(const moves::Move& move) {
  return std::holds_alternative<Kind>(move.action);
}

/// The possible move of least value that fits; nothing where none does.
inline std::optional<drill::Event> least_of(const drill::Drill& drill,
                                            const std::function<bool(const moves::Move&)>& fits) {
  std::optional<drill::Event> best;
  double least = 0;
  for (const moves::Move& move : drill.possible()) {
    if (!fits(move)) continue;
    const double value = drill.values().of({plan::Verdict::move, move});
    if (best && value >= least) continue;
    best = made(move.name);
    least = value;
  }
  return best;
}

inline bool spare_in(const drill::Drill& drill, const moves::Move& move) {
  return is<moves::Substitute>(move) && drill::repairs(drill.isolation().setting(), move);
}

inline std::size_t moves_made(const drill::Drill& drill) {
  return drill.track().steps().size();
}

inline bool made_before(const drill::Drill& drill, const std::string& name) {
  const auto& steps = drill.track().steps();
  return std::any_of(steps.begin(), steps.end(),
                     [&](const guide::Step& step) { return step.move.name == name; });
}

/// The best of everything that is possible, by one step of look-ahead.
inline drill::Event one_step(const drill::Drill& drill) {
  const drill::Choice close{plan::Verdict::close, std::nullopt};
  const drill::Choice service{plan::Verdict::service, std::nullopt};
  const double least = drill.values().least();
  if (drill.values().of(close) <= least) return event_of(close);
  if (drill.values().of(service) <= least) return event_of(service);
  return *least_of(drill, [](const moves::Move&) { return true; });
}

/// Parts first: each spare goes in, one after the other, and none comes out again; closed at the
/// first quiet, handed over when the drawer is empty.
inline drill::Event swaps_first(const drill::Drill& drill) {
  if (moves_made(drill) > 0 && !drill.track().heard_wrong()) return said(drill::Say::close);
  for (const moves::Move& move : drill.possible()) {
    if (spare_in(drill, move)) return made(move.name);
  }
  return said(drill::Say::service);
}

/// As planned, but whatever is changed for a test stays changed when the case ends. Changes
/// something for a test as soon as they can.
inline drill::Event leaves_changed(const drill::Drill& drill) {
  const drill::Choice& advised = drill.values().advised();
  if (drill.track().standing().temporary) {
    if (!advised.move || is<moves::PutBack>(*advised.move)) {
      return said(drill.track().heard_wrong() ? drill::Say::service : drill::Say::close);
    }
    return as_planned(drill);
  }
  const auto test = least_of(drill, [&](const moves::Move& move) {
    return is<moves::CrossPlugs>(move) || is<moves::ConnectDirectly>(move) ||
           (is<moves::Substitute>(move) && !spare_in(drill, move));
  });
  return test && moves_made(drill) < 2 ? *test : as_planned(drill);
}

/// Closes as soon as nothing is heard: does not know that faults come and go.
inline drill::Event takes_quiet_for_sound(const drill::Drill& drill) {
  if (moves_made(drill) > 0 && !drill.track().heard_wrong()) {
    return drill.track().standing().temporary ? made("put back") : said(drill::Say::close);
  }
  const drill::Choice& advised = drill.values().advised();
  const bool stress = advised.move && (is<moves::ApplyStress>(*advised.move) ||
                                       is<moves::StressRoute>(*advised.move));
  if (moves_made(drill) == 0 || stress) return made("listen");
  return as_planned(drill);
}

/// Unplugs and cleans before anybody has listened.
inline drill::Event cleans_first(const drill::Drill& drill) {
  if (moves_made(drill) == 0) {
    if (const auto clean = least_of(drill, [&](const moves::Move& move) {
          return is<moves::Treat>(move) && drill::unplugs(drill.isolation().setting(), move);
        })) {
      return *clean;
    }
  }
  return as_planned(drill);
}

/// Repairs on repairs: never asks what one of them has proved.
inline drill::Event heaps_changes(const drill::Drill& drill) {
  if (moves_made(drill) > 0 && !drill.track().heard_wrong()) return as_planned(drill);
  const auto repair = least_of(drill, [&](const moves::Move& move) {
    return drill::repairs(drill.isolation().setting(), move) && !made_before(drill, move.name);
  });
  return repair && moves_made(drill) < 8 ? *repair : as_planned(drill);
}

/// Knows of one cause only: a part that did not end it goes out again, although it sounds
/// otherwise.
inline drill::Event knows_one_cause(const drill::Drill& drill) {
  const auto& steps = drill.track().steps();
  if (!steps.empty() && drill.track().heard_wrong() && spare_in(drill, steps.back().move)) {
    const std::string& before = steps.size() > 1 ? steps[steps.size() - 2].report.heard
                                                 : drill.isolation().events().complaint.heard;
    const auto out =
        least_of(drill, [](const moves::Move& move) { return is<moves::TakeOut>(move); });
    if (out && steps.back().report.heard != before) return *out;
  }
  return as_planned(drill);
}

/// Never calls.
inline drill::Event never_calls(const drill::Drill& drill) {
  if (drill.values().advised().verdict != plan::Verdict::service || moves_made(drill) >= 40) {
    return as_planned(drill);
  }
  const auto more = least_of(drill, [&](const moves::Move& move) {
    return !made_before(drill, move.name) && !is<moves::Listen>(move);
  });
  return more ? *more : as_planned(drill);
}

/// Calls at once.
inline drill::Event calls_at_once(const drill::Drill& /*drill*/) {
  return said(drill::Say::service);
}

/// Never selects another route, follows no labels, crosses and connects nothing: parts alone.
inline drill::Event sees_parts_alone(const drill::Drill& drill) {
  const drill::Choice& advised = drill.values().advised();
  const auto is_test = [](const moves::Move& move) {
    return is<moves::TryRoute>(move) || is<moves::CrossPlugs>(move) ||
           is<moves::ConnectDirectly>(move) || is<moves::TraceLabels>(move);
  };
  if (!advised.move || !is_test(*advised.move)) return as_planned(drill);
  const auto other = least_of(drill, [&](const moves::Move& move) {
    return !is_test(move) && !made_before(drill, move.name) && !is<moves::PutBack>(move);
  });
  return other ? *other : as_planned(drill);
}

/// Any move at all, and any end at some time.
inline Habits at_random(std::uint64_t seed) {
  auto random = std::make_shared<Random>(seed);
  return [random](const drill::Drill& drill) {
    constexpr double kEnds = .08;
    if (random->chance(kEnds)) {
      return said(random->chance(.5) ? drill::Say::close : drill::Say::service);
    }
    const std::vector<moves::Move> possible = drill.possible();
    return made(possible[random->below(static_cast<std::uint32_t>(possible.size()))].name);
  };
}

inline std::function<Habits(std::uint64_t)> always(drill::Event (*one)(const drill::Drill&)) {
  return [one](std::uint64_t /*seed*/) { return Habits(one); };
}

inline const std::vector<Trainee>& trainees() {
  using drill::Habit;
  static const std::vector<Trainee> all = {
      {"perfect", std::nullopt, false, always(as_planned)},
      {"one step", std::nullopt, false, always(one_step)},
      {"cleans first", Habit::listening, false, always(cleans_first)},
      {"heaps changes", Habit::one_change, true, always(heaps_changes)},
      {"knows one cause", Habit::second_fault, true, always(knows_one_cause)},
      {"sees parts alone", Habit::sharing, true, always(sees_parts_alone)},
      {"never calls", Habit::calling, true, always(never_calls)},
      {"calls at once", Habit::calling, true, always(calls_at_once)},
      {"leaves changed", Habit::putting_back, true, always(leaves_changed)},
      {"takes quiet for sound", Habit::quiet, true, always(takes_quiet_for_sound)},
      {"swaps first", Habit::wiping, true, always(swaps_first)},
      {"random", std::nullopt, false, at_random}};
  return all;
}

/// Plays to the end; with `checks`, all that is due is said, else nothing.
inline void play(drill::Drill& drill, const Habits& habits, bool checks = true) {
  constexpr int kMost = 70;
  for (int turn = 0; turn < kMost && drill.stage() == drill::Stage::under_way; ++turn) {
    const auto problem = drill.take(habits(drill));
    if (!problem) continue;
    const auto end = drill.take(said(drill::Say::service));
    ASSERT_FALSE(end) << to_line(*end);
  }
  ASSERT_EQ(drill.stage(), drill::Stage::ending);
  drill::Event last = said(drill::Say::checks);
  if (checks) last.checks = drill.isolation().ending(guide::Stage::mended).needs_after;
  const auto problem = drill.take(last);
  ASSERT_FALSE(problem) << to_line(*problem);
}

}  // namespace whichlink::testing
