#pragma once

#include <string>
#include <vector>

#include "guide/case.h"

namespace whichlink::guide {

/// A part that may be bad, so that whoever comes should have another with them.
struct PartInDoubt {
  PartId part;
  double chance = 0;        ///< that something is wrong with it now
  bool staff_may = false;   ///< staff may exchange it; else it is for service
  bool lies_ready = false;  ///< a spare of its kind, of a state to be relied on, is in the drawer
};

/// Of the route as it was at the start and of parts put in since, those with this chance or more
/// of a fault (5 % judged), likeliest first; one that was taken out is not among them.
[[nodiscard]] std::vector<PartInDoubt> parts_in_doubt(const Case& one, double least = .05);

}  // namespace whichlink::guide
