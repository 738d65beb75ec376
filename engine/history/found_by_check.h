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

/// The first listener of the first sense.
[[nodiscard]] std::string usual_listener(const moves::Setting& setting);

/// What going through a list once takes, in minutes: listening, walking, looking.
/// @param list  its name; empty: the first
[[nodiscard]] Result<double> minutes_of_check(const moves::Setting& setting,
                                              const std::string& list);

}  // namespace whichlink::history
