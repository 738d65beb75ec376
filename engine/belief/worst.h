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

/// Likelihoods one draw earlier: earlier[s] = sum over t of P(draw is t) likelihood[max(s, t)].
/// `earlier` must not be `likelihood`.
inline void before_draw(const double* likelihood, const double* draw, std::size_t severities,
                        double* earlier) {
  double draw_up_to = 0;
  for (std::size_t severity = 0; severity < severities; ++severity) {
    draw_up_to += draw[severity];
    earlier[severity] = draw_up_to;
  }
  double worse = 0;
  for (std::size_t severity = severities; severity-- > 0;) {
    earlier[severity] = earlier[severity] * likelihood[severity] + worse;
    worse += draw[severity] * likelihood[severity];
  }
}

}  // namespace whichlink::belief
