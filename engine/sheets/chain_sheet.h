#pragma once

#include <string>

#include "moves/setting.h"

namespace whichlink::sheets {

/// Every route as it should be plugged, part by part, and a table of the plugs of each place, with
/// room to write down colours and labels, which no installation file tells.
/// @param date  of the page, as 2026-11-26
[[nodiscard]] std::string chain_sheet(const moves::Setting& setting, const std::string& date);

}  // namespace whichlink::sheets
