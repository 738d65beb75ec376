#pragma once

#include <string>

namespace whichlink::faults {

/// A rate per item and year: judged 5 %, 50 % and 95 % limits.
struct Rate {
  double low_per_year = 0;
  double mid_per_year = 0;
  double high_per_year = 0;
  std::string source;
};

}  // namespace whichlink::faults
