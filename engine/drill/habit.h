#pragma once

#include <optional>
#include <string>
#include <vector>

#include "guide/course.h"

namespace whichlink::drill {

/// What a trainee does at a step: a move, or an end to the case.
struct Choice {
  plan::Verdict verdict = plan::Verdict::move;
  std::optional<moves::Move> move;  ///< while the case goes on
};

/// What minutes are lost by. Each lost minute is charged to one of them.
enum class Habit {
  listening,     ///< something was changed before anybody listened or stressed
  one_change,    ///< changed while an earlier change had proved nothing yet
  following,     ///< crossing two plugs would have told, or told nothing
  splitting,     ///< a better split was there
  known_good,    ///< a part of unknown state was put in
  wiping,        ///< believed mended what re-plugging only wiped
  quiet,         ///< silence was taken for health
  second_fault,  ///< the first cause that was found was taken for the only one
  sides,         ///< plugs that may be crossed were not followed
  sharing,       ///< what other routes share was not asked
  calling,       ///< stopped too early, or too late
  putting_back,  ///< something was left changed
};
constexpr std::size_t kHabits = 12;

/// "listening", "one change" ...: how lesson files and records call it.
[[nodiscard]] const std::string& name_of(Habit habit);
[[nodiscard]] std::optional<Habit> habit_of(const std::string& name);
[[nodiscard]] const std::vector<std::string>& habit_names();
/// What somebody with this habit should practise, as one short clause.
[[nodiscard]] const std::string& words_of(Habit habit);

/// What the minutes lost by a choice are charged to. The first that fits, in the order of the
/// source.
/// @param track  before the choice
/// @param complaint  what was heard at first
[[nodiscard]] Habit charged_to(const moves::Setting& setting, const guide::Track& track,
                               const std::string& complaint, const Choice& chosen,
                               const Choice& advised);

/// Whether hands part or push together a joint: what may wipe a contact.
[[nodiscard]] bool unplugs(const moves::Setting& setting, const moves::Move& move);
/// Whether it can mend the route for good: a treatment, a spare, plugs followed by their labels.
[[nodiscard]] bool repairs(const moves::Setting& setting, const moves::Move& move);

}  // namespace whichlink::drill
