#pragma once

#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <string>
#include <vector>

#include "belief/network.h"

namespace whichlink::bench {

[[noreturn]] inline void stop(const std::string& why) {
  fmt::print(stderr, "{}\n", why);
  std::exit(1);
}

[[nodiscard]] inline double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

/// Median seconds of one call of `work`. Calls are batched until a batch takes a millisecond, so
/// that the clock's own cost is not measured; once without the clock to warm up.
template <class Work>
[[nodiscard]] double seconds_of(Work work, std::size_t samples = 15) {
  using Clock = std::chrono::steady_clock;
  const auto batch = [&](std::size_t calls) {
    const auto start = Clock::now();
    for (std::size_t call = 0; call < calls; ++call) work();
    return std::chrono::duration<double>(Clock::now() - start).count();
  };
  work();
  std::size_t calls = 1;
  while (batch(calls) < 1e-3) calls *= 2;
  std::vector<double> seconds;
  for (std::size_t sample = 0; sample < samples; ++sample) {
    seconds.push_back(batch(calls) / static_cast<double>(calls));
  }
  return median(seconds);
}

[[nodiscard]] inline std::string time_text(double seconds) {
  if (seconds < 1e-3) return fmt::format("{:.1f} us", seconds * 1e6);
  if (seconds < 1) return fmt::format("{:.2f} ms", seconds * 1e3);
  return fmt::format("{:.2f} s", seconds);
}

/// Largest difference between two sets of marginals and log P(reports); NaN counts as infinite.
[[nodiscard]] inline double distance(const belief::Posterior& one, const belief::Posterior& other) {
  double worst = std::abs(one.log_evidence - other.log_evidence);
  if (one.marginal.size() != other.marginal.size()) return INFINITY;
  for (std::size_t fault = 0; fault < one.marginal.size(); ++fault) {
    for (std::size_t state = 0; state < belief::kStates; ++state) {
      const double gap = std::abs(one.marginal[fault][state] - other.marginal[fault][state]);
      if (!(gap <= worst)) worst = gap;
    }
  }
  return std::isnan(worst) ? INFINITY : worst;
}

/// Stops the whole run where two ways do not give the same numbers.
inline void must_agree(const std::string& what, double distance_found, double most) {
  if (!(distance_found <= most)) {
    stop(fmt::format("{}: the answers differ by {:.3g}; at most {:.0e} is allowed", what,
                     distance_found, most));
  }
}

}  // namespace whichlink::bench
