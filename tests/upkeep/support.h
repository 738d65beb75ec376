#pragma once

#include <cmath>
#include <cstddef>
#include <vector>

#include "base/random.h"

/// Second ways to the numbers of upkeep: sums over small steps, and draws.
namespace whichlink::upkeep {

/// Integral from a to b by Simpson's rule, `steps` double steps.
template <class Function>
double integral(const Function& function, double a, double b, std::size_t steps = 2000) {
  const double h = (b - a) / (2 * static_cast<double>(steps));
  double sum = function(a) - function(b);
  for (std::size_t index = 0; index < steps; ++index) {
    const double at = a + 2 * h * static_cast<double>(index);
    sum += 4 * function(at + h) + 2 * function(at + 2 * h);
  }
  return sum * h / 3;
}

/// Days until something with this chance per day happens, above 0.
inline double days_until(Random& random, double rate) {
  return -std::log1p(-random.uniform()) / rate;
}

/// Mean of independent values, and its standard error.
struct Mean {
  double value = 0;
  double error = 0;
};

inline Mean mean_of(const std::vector<double>& values) {
  const auto count = static_cast<double>(values.size());
  double sum = 0;
  for (const double value : values) sum += value;
  const double mean = sum / count;
  double squares = 0;
  for (const double value : values) squares += (value - mean) * (value - mean);
  return {mean, std::sqrt(squares / (count - 1) / count)};
}

}  // namespace whichlink::upkeep
