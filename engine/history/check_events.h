#pragma once

#include <vector>

#include "base/problem.h"
#include "record/entries.h"
#include "routine/round.h"

namespace whichlink::history {

/// What a check's events are on record, and back. Times are left empty.
[[nodiscard]] record::CheckAnswer answer_of(const routine::Event& event);
/// @param place  for complaints about a record that holds what no check writes
[[nodiscard]] Result<routine::Event> event_of(const record::CheckAnswer& answer,
                                              const Place& place);
/// A check that is on record, as events to go on with.
[[nodiscard]] Result<routine::CheckFile> check_file_of(const record::CheckStory& story,
                                                       const Place& place);
/// What the check has found of each route so far.
[[nodiscard]] std::vector<record::RouteResult> results_of(const routine::Outcome& outcome);

}  // namespace whichlink::history
