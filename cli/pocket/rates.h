#pragma once

#include "faults/rules.h"
#include "pocket/tree.h"

namespace whichlink::cli {

/// Every rate of the rules as [low, middle, high] a year: of each mode in its order, of a cause
/// that is not listed, and of crossed plugs where there are such. They may have been learned from a
/// record, and are then not those of the rules' file.
[[nodiscard]] Json rates_of(const faults::Rules& rules);
/// The other way round, into the same rules. @return false where these are not their rates
[[nodiscard]] bool put_rates(const Json& rates, faults::Rules& rules);

}  // namespace whichlink::cli
