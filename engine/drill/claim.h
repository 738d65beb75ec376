#pragma once

#include <optional>
#include <string>
#include <vector>

#include "drill/told.h"

namespace whichlink::drill {

/// A thing that a trainee may suspect, by any name that means something on the route: a fault, an
/// element, a part, a kind of fault, or crossed plugs.
struct Suspected {
  std::string name;
  std::vector<bool> mask;  ///< by fault; none for crossed plugs
  bool plugs = false;      ///< crossed plugs
};

/// Every name that means something here, in order.
[[nodiscard]] std::vector<std::string> suspect_names(const guide::Case& one);
/// A problem with the nearest name where it means nothing.
[[nodiscard]] Result<Suspected> suspected(const guide::Case& one, const std::string& name,
                                          const Place& place);

/// What somebody says is wrong, and how sure of it they are.
struct Claim {
  std::string name;
  double sure = 0;       ///< 0 to 1
  std::size_t step = 0;  ///< moves made before it
  double believed = 0;   ///< what the answers so far give it: it was there at the start
  bool is_true = false;  ///< it was
  std::string rival;     ///< what else of another kind is as likely as that; empty: nothing
  double rival_chance = 0;
  bool supported = true;
};

/// A claim is not supported where the answers give it less than this much of what was said
/// (judged).
constexpr double kOverstated = .3;
/// Or where it is held for likelier than not while something else is at least as likely as this
/// (judged).
constexpr double kRival = .25;

/// Weighs a claim by the answers so far; `is_true` is left to whoever knows.
[[nodiscard]] Claim weighed(const guide::Case& one, const Suspected& what, double sure);

/// Sums up claims: Brier's score (G. W. Brier, "Verification of forecasts expressed in terms of
/// probability", Monthly Weather Review 78, 1950), here of the event alone, so half of Brier's own
/// figure, which counts the event and its contrary.
struct Calibration {
  struct Bin {
    double low = 0, high = 0;  ///< of what was said
    std::size_t claims = 0;
    std::size_t right = 0;
    double said = 0;  ///< mean of what was said
  };
  std::size_t claims = 0;
  double brier = 0;  ///< 0 best, 1 worst; .25 is what saying 50 % of everything gets
  std::vector<Bin> bins;
  // Grouped by equal values of what was said, brier = reliability - resolution +
  // uncertainty (A. H. Murphy, "A new vector partition of the probability score", J. Appl. Meteor.
  // 12, 1973, from memory).
  double reliability = 0, resolution = 0, uncertainty = 0;
};

struct Said {
  double sure = 0;
  bool is_true = false;
};
[[nodiscard]] Calibration calibration_of(const std::vector<Said>& said);
constexpr std::size_t kBins = 5;

}  // namespace whichlink::drill
