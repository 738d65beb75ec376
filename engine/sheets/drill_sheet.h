#pragma once

#include <string>

#include "history/progress.h"

namespace whichlink::sheets {

/// How one trainee gets on, by all drills on record.
/// @param progress  of at least one drill
[[nodiscard]] std::string drill_sheet(const history::Progress& progress, const std::string& date);

}  // namespace whichlink::sheets
