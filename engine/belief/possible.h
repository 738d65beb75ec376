#pragma once

#include <span>

#include "belief/network.h"

namespace whichlink::belief {

/// False only if the reports are impossible. Looks at each fault's possible states one by one, so
/// it sees through a report that no fault can explain, but not through every contradiction that
/// takes several faults together. No rounding is involved: only "is it 0" is asked of each number.
/// Cost: slices x (faults on the path) x severities.
[[nodiscard]] bool may_be_possible(const Network& network, std::span<const Slice> slices);

}  // namespace whichlink::belief
