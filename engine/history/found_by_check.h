#pragma once

#include <string>

#include "base/problem.h"
#include "history/lookback.h"

namespace whichlink::history {

/// What a routine check would have made of a fault: 1 - P(pass | the fault is there) / P(pass | all
/// is sound), so that false alarms, which a sound route has as well, find nothing. Remembered from
/// one question to the next. The setting must outlive it. An unknown listener counts as the usual
/// one.
[[nodiscard]] ChanceFound found_by_check(const moves::Setting& setting);

/// The same of a check by a list: a route is stressed as its signal says, and one that the list
/// does not hold is not checked.
/// @param list  index into Routine::lists
[[nodiscard]] FoundOnRoute found_on_list(const moves::Setting& setting, std::size_t list,
                                         const std::string& listener);

/// The first listener of the first sense.
[[nodiscard]] std::string usual_listener(const moves::Setting& setting);

/// @param name  of a list of the routine check; empty: the first
[[nodiscard]] Result<std::size_t> list_of(const moves::Setting& setting, const std::string& name);

/// What going through a list once takes, in minutes: listening, walking, looking.
[[nodiscard]] double minutes_of_check(const moves::Setting& setting, std::size_t list);

}  // namespace whichlink::history
