#include "faults/outlines.h"

#include <algorithm>

namespace whichlink::faults {

bool is_there(const OutlineStep& step, const std::vector<std::size_t>& ways) {
  return std::all_of(step.only.begin(), step.only.end(), [&](const auto& named) {
    const auto chosen = std::pair(named.first, ways[named.first]);
    return std::find(step.only.begin(), step.only.end(), chosen) != step.only.end();
  });
}

}  // namespace whichlink::faults
