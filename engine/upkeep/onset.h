#pragma once

#include <vector>

/// When faults begin, how often to look for them, and what a record says of their rates: plain
/// numbers. Days are counted from any day zero. Knows nothing of plugs, routes or calendars.
namespace whichlink::upkeep {

/// A check that was passed, though it might have failed.
struct PassedCheck {
  double day = 0;
  double chance_found = 1;  ///< that it fails if the fault is there, 0 to 1
};

/// When did a fault begin that was not there on `start_day` and was there on `found_day`? It begins
/// with a constant chance per day; each pass since then makes an earlier beginning less likely
/// (docs/mathematics.md 7.1). The density at day t is proportional to
///   e^(-rate (t - start)) * product over passes on or after day t of (1 - chance_found)
/// Example: Onset(.02, 0, 30, {}).begun_by(10) is .4018.
class Onset {
 public:
  /// @param rate_per_day  at least 0; 0: every day alike, the limit of small rates
  /// @param found_day     at least start_day
  /// @param passed        in any order; those outside the open window say nothing and are dropped
  Onset(double rate_per_day, double start_day, double found_day, std::vector<PassedCheck> passed);

  /// Chance that it had begun by the end of the moment `day`: 0 before the start, 1 from the day on
  /// which it was found. Cost: logarithmic in the number of passes.
  [[nodiscard]] double begun_by(double day) const;
  /// Expected day.
  [[nodiscard]] double mean() const;
  /// The day by which it had begun with this chance, 0 to 1.
  [[nodiscard]] double quantile(double chance) const;

 private:
  /// Between two passes.
  struct Piece {
    double begin = 0;
    double length = 0;  ///< above 0
    double mass = 0;    ///< chance that it began here
    double before = 0;  ///< chance that it began in an earlier piece
  };

  double rate_;
  double found_;
  std::vector<Piece> pieces_;  ///< in order of time; none where found on the day of the start
};

/// Expected day, counted from the start, of what begins with a constant chance per day and has
/// begun within `window` days (S. Preston, P. Heuveline & M. Guillot, Demography, 2001, from
/// memory): 1 / rate - window / (e^(rate window) - 1); half the window for rate 0.
[[nodiscard]] double mean_onset(double rate_per_day, double window);

}  // namespace whichlink::upkeep
