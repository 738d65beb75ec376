#pragma once

#include <cstddef>
#include <optional>
#include <vector>

/// Which parts to buy for a sum of money (docs/mathematics.md 7.4).
namespace whichlink::upkeep {

/// One part that may be bought several times.
struct Choice {
  double price = 1;  ///< of one, above 0
  /// Expected loss with 0, 1, 2 ... of it held, at least one number, all finite. It should be
  /// convex: each one more saves no more than the one before. What a stock of spares lacks is, with
  /// any order quantity and lead time. Where it is not, the steps below take several at once.
  std::vector<double> lost;
};

/// One more of a part; where its loss is not convex, as many more as save most per money.
struct Step {
  std::size_t choice = 0;  ///< which part
  double money = 0;        ///< spent on all parts after it
  double lost = 0;         ///< by all parts after it
  std::size_t held = 0;    ///< of this part after it
};

/// Marginal analysis: again and again the part whose next one saves most per money; among equals
/// the first. Each point is efficient (no list for the same money or less loses less; B. Fox,
/// "Discrete optimization via marginal analysis", Management Science 13, 1966, from memory);
/// between its points a list may be better. Ends where nothing is saved any more. Cost: n
/// log(parts) for n steps.
[[nodiscard]] std::vector<Step> marginal_curve(const std::vector<Choice>& choices);

struct List {
  std::vector<std::size_t> held;  ///< one number a choice
  double money = 0;
  double lost = 0;
};

// A budget, at least 0, is kept but for a relative 1e-12, so that three times .1 fits into .3.

/// Along the curve as far as the money goes, and on with those of its steps that still fit, in the
/// same order. It loses at most as much more than the best list as the first step left out saves.
[[nodiscard]] List greedy_list(const std::vector<Choice>& choices, double budget);

/// The list that loses least, and among equals costs least: part by part, keeping the lists that no
/// other beats in both money and loss, less those that cannot come below the greedy one (dynamic
/// programming with bounds: G. Nemhauser & Z. Ullmann, "Discrete dynamic programming and capital
/// allocation", Management Science 15, 1969, from memory). The losses need not be convex. Nothing
/// where more than `most_states` lists would have to be kept in all.
[[nodiscard]] std::optional<List> exact_list(const std::vector<Choice>& choices, double budget,
                                             std::size_t most_states);

/// No list within the budget loses less: the straight line between the two points of the curve on
/// either side (the linear relaxation).
[[nodiscard]] double least_possible(const std::vector<Choice>& choices, double budget);

}  // namespace whichlink::upkeep
