#pragma once

#include <string>

#include "history/year.h"

namespace whichlink::sheets {

/// One year of an installation: what went bad, what it took, and how regularly it was checked. Each
/// picture has its numbers in a table.
[[nodiscard]] std::string year_sheet(const std::string& installation, const history::Year& year,
                                     const std::string& date);

}  // namespace whichlink::sheets
