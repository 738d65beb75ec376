#pragma once

#include <cstdint>
#include <vector>

#include "base/random.h"
#include "belief/network.h"
#include "belief/set_belief.h"

namespace whichlink::referee {

/// How random cases are drawn.
struct Shape {
  std::uint32_t least_faults = 2;
  std::uint32_t most_faults = 7;
  std::uint32_t most_severities = 6;
  std::uint32_t most_slices = 8;
  bool small_priors = false;  ///< present with at most 5 %
  bool appears = true;        ///< transitions may make an absent fault present
  bool cures = true;          ///< transitions may make a present fault absent
  bool impossible = true;     ///< reports may have chances of 0
};

struct Case {
  belief::Network network;
  std::vector<belief::Slice> slices;
};

/// Two senses, which may differ in their number of severities.
[[nodiscard]] Case random_case(Random& random, const Shape& shape);
[[nodiscard]] belief::Question random_question(Random& random, const Shape& shape,
                                               const belief::Network& network);
[[nodiscard]] std::vector<bool> random_mask(Random& random, std::size_t faults);

}  // namespace whichlink::referee
