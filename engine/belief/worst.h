#pragma once

#include <cstddef>
#include <vector>

/// Small pieces of noisy-MAX, for one sense: chances by severity, mildest first. Everything is a
/// sum of products of chances, so nothing cancels (docs/mathematics.md 2).
namespace whichlink::belief {

/// chance[s] = at_most[s] - at_most[s - 1], written to `chance`.
inline void severity_chances(const std::vector<double>& at_most, double* chance) {
  double below = 0;
  for (std::size_t severity = 0; severity < at_most.size(); ++severity) {
    chance[severity] = at_most[severity] - below;
    below = at_most[severity];
  }
}

/// worse[s] = chance that the worse of two independent draws is s. `worse` may be `first` or
/// `second`.
inline void worse_of(const double* first, const double* second, std::size_t severities,
                     double* worse) {
  double first_below = 0;
  double second_up_to = 0;
  for (std::size_t severity = 0; severity < severities; ++severity) {
    const double from_first = first[severity];
    const double from_second = second[severity];
    second_up_to += from_second;
    worse[severity] = from_first * second_up_to + first_below * from_second;
    first_below += from_first;
  }
}

/// Likelihoods one draw earlier: earlier[s] = sum over t of P(draw is t) likelihood[max(s, t)], the
/// draw given by its chances to be at most so bad. `earlier` must not be `likelihood`.
inline void before_draw(const double* likelihood, const std::vector<double>& at_most,
                        double* earlier) {
  double worse = 0;
  for (std::size_t severity = at_most.size(); severity-- > 0;) {
    const double below = severity == 0 ? 0 : at_most[severity - 1];
    earlier[severity] = at_most[severity] * likelihood[severity] + worse;
    worse += (at_most[severity] - below) * likelihood[severity];
  }
}

/// earlier[0] of before_draw alone: no draw is worse than the mildest before any is made.
inline double before_last(const double* likelihood, const std::vector<double>& at_most) {
  // Two sums side by side, in a fixed order: one would wait for each addition.
  double even = at_most[0] * likelihood[0];
  double odd = 0;
  std::size_t severity = 1;
  for (; severity + 2 <= at_most.size(); severity += 2) {
    odd += (at_most[severity] - at_most[severity - 1]) * likelihood[severity];
    even += (at_most[severity + 1] - at_most[severity]) * likelihood[severity + 1];
  }
  if (severity < at_most.size()) {
    odd += (at_most[severity] - at_most[severity - 1]) * likelihood[severity];
  }
  return even + odd;
}

}  // namespace whichlink::belief
