#pragma once

#include <vector>

/// How often to check for faults that nobody sees by themselves. Checks are made every T days on
/// fixed days; a fault begins with a constant chance per day, and ends at the next check that finds
/// it or when it is noticed in use, whichever comes first. What is found is put right at once.
namespace whichlink::upkeep {

/// One kind of fault. Rates and cost are at least 0.
struct Unrevealed {
  double rate_per_day = 0;     ///< of sound items
  double chance_found = 1;     ///< by a check, if it is there: above 0, at most 1
  double noticed_per_day = 0;  ///< chance per day that it is noticed in use
  double cost_per_day = 0;     ///< while it is there and nobody knows
};

/// Mean days from the beginning of a fault until it is found or noticed (docs/mathematics.md 7.2).
/// For noticed_per_day 0 it is T / (1 - e^(-rate T)) - 1 / rate + T (1 / chance_found - 1).
/// Example: rate .01, chance .9, noticed 0, T 30 gives 19.082.
/// @param interval_days  T, above 0
[[nodiscard]] double undetected_days(const Unrevealed& fault, double interval_days);

/// Long-run share of time in which the fault is there and nobody knows, 0 to 1: undetected_days /
/// (1 / rate + undetected_days). For chance_found 1 and noticed_per_day 0 it is the mean
/// probability of failure on demand of one channel, 1 - (1 - e^(-rate T)) / (rate T) (formula seen;
/// IEC 61508-6, annex B).
[[nodiscard]] double undetected_share(const Unrevealed& fault, double interval_days);

/// Long-run cost per day of checking every T days: check_cost / T + sum of cost_per_day * share.
/// Faults are independent and each is found or missed by itself.
[[nodiscard]] double cost_per_day(double check_cost, const std::vector<Unrevealed>& faults,
                                  double interval_days);

struct Interval {
  double days = 0;
  double cost_per_day = 0;
};

/// The interval from `shortest` to `longest` days with the least cost_per_day, which has one valley
/// whatever the faults (docs/mathematics.md 7.2). `longest` itself means that checking less often
/// would be cheaper still, `shortest` that checking more often would.
/// @param shortest  above 0
/// @param longest   at least shortest
[[nodiscard]] Interval cheapest_interval(double check_cost, const std::vector<Unrevealed>& faults,
                                         double shortest, double longest);

}  // namespace whichlink::upkeep
