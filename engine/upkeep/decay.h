#pragma once

#include <cmath>

namespace whichlink::upkeep {

/// Mean of e^(-xs) over s from 0 to 1: (1 - e^(-x)) / x, and 1 at 0. x is at least 0.
[[nodiscard]] inline double mean_decay(double x) {
  return x > 0 ? -std::expm1(-x) / x : 1;
}

/// Mean of 1 - e^(-xs) over s from 0 to 1, for each x: (1 - mean_decay(x)) / x, and 1/2 at 0. x is
/// at least 0. As written it would lose all digits where x is small, so there it is its series, sum
/// of (-x)^k / (k + 2)!.
[[nodiscard]] inline double mean_loss(double x) {
  if (x >= 1) return (1 - mean_decay(x)) / x;
  constexpr int kTerms = 20;  // at x = 1 the next would be 1e-21
  double sum = 0;
  double term = .5;
  for (int k = 0; k < kTerms; ++k) {
    sum += term;
    term *= -x / (k + 3);
  }
  return sum;
}

}  // namespace whichlink::upkeep
