#include <algorithm>
#include <cmath>

#include "trial/trial.h"

namespace whichlink::trial {
namespace {

constexpr double kTwoSided95 = 1.959963984540054;  // the normal's quantile at .975

}  // namespace

Estimate mean_of(const std::vector<double>& values) {
  if (values.empty()) return {};
  const auto count = static_cast<double>(values.size());
  double sum = 0;
  for (const double value : values) sum += value;
  const double mean = sum / count;
  double squares = 0;
  for (const double value : values) squares += (value - mean) * (value - mean);
  const double error = values.size() < 2 ? 0 : std::sqrt(squares / (count - 1) / count);
  return {mean, mean - kTwoSided95 * error, mean + kTwoSided95 * error};
}

Estimate quantile_of(std::vector<double> values, double quantile) {
  if (values.empty()) return {};
  std::sort(values.begin(), values.end());
  const auto count = static_cast<double>(values.size());
  const auto at = [&](double position) {
    const double bounded = std::clamp(position, 0.0, count - 1);
    return values[static_cast<std::size_t>(bounded)];
  };
  const double middle = quantile * count;
  const double spread = kTwoSided95 * std::sqrt(count * quantile * (1 - quantile));
  return {at(std::ceil(middle) - 1), at(std::floor(middle - spread) - 1),
          at(std::ceil(middle + spread))};
}

Estimate share_of(std::size_t hits, std::size_t count) {
  if (count == 0) return {};
  const auto n = static_cast<double>(count);
  const double share = static_cast<double>(hits) / n;
  const double z = kTwoSided95 * kTwoSided95;
  const double centre = (share + z / (2 * n)) / (1 + z / n);
  const double spread =
      kTwoSided95 / (1 + z / n) * std::sqrt(share * (1 - share) / n + z / (4 * n * n));
  return {share, std::max(0.0, centre - spread), std::min(1.0, centre + spread)};
}

}  // namespace whichlink::trial
