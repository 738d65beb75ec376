#pragma once

#include <string>

#include "routine/round.h"

namespace whichlink::sheets {

/// The routine check as a form for five checks: every step in the order of the check, a grid to
/// mark, and what follows where something is not as it should be.
/// @param round  a check at its beginning
/// @param coupler  the reference levels to write readings against, by name; empty: none
/// @param date  of the page, as 2026-11-26
[[nodiscard]] Result<std::string> check_sheet(const routine::Round& round,
                                              const std::string& coupler, const std::string& date);

}  // namespace whichlink::sheets
