#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "chart/tree.h"
#include "guide/case.h"

namespace whichlink::chart {

/// How a way through a chart ends. `program`: the chart is cut there, the case is not.
enum class EndKind { mended, nothing_found, service, program };

struct End {
  EndKind kind = EndKind::program;
  double minutes = 0;    ///< from the start, with putting back; mean where ways are joined
  guide::Ending chores;  ///< without causes
};

/// One row under a step: what may be answered, what that means, where it leads.
struct Row {
  std::vector<std::size_t> outcomes;  ///< of the move's sense, ascending
  bool is_remnant = false;            ///< all that hardly ever comes
  double chance = 0;                  ///< given that the step is reached
  std::optional<std::size_t> next;    ///< index into Chart::steps; absent: it ends
  std::optional<End> end;
  std::vector<Blame> blame;          ///< after the answer, likeliest first
  std::vector<std::string> cleared;  ///< what was in question before, and is hardly so now
};

struct Step {
  moves::Move move;
  std::string reason;  ///< as of guide::Advice
  std::string words;   ///< what the hands do
  double chance = 0;   ///< of coming here
  double minutes = 0;  ///< so far; mean where ways are joined
  std::vector<Row> rows;
  std::size_t node = 0;  ///< of the tree; the likeliest where ways are joined
};

/// What a chart comes to, exactly, by the belief's own forecast.
struct Numbers {
  double minutes = 0;  ///< expected, with putting back, to wherever it ends
  double mended = 0, nothing_found = 0, service = 0, program = 0;  ///< shares; add up to 1
  /// Chance that the route is not sound where the chart says that it may be used.
  double left_in = 0;
};

/// A chart for one page: steps that are numbered so that every answer leads onward.
struct Chart {
  Complaint complaint;
  std::vector<Step> steps;  ///< empty where the guide would end the case at once
  std::optional<End> at_once;
  Numbers numbers;
};

/// The first `opened` nodes of a tree. Steps that say the same in every word, and whatever follows
/// them too, are one; so a chart has fewer steps than nodes.
[[nodiscard]] Chart chart_of(const moves::Setting& setting, const Tree& tree, std::size_t opened);

/// Steps in a row that are read as one: while nothing wrong is heard each leads to the next, from
/// nowhere else, and any other answer leaves the chart. Indices into Chart::steps, ascending; every
/// step is in one run.
[[nodiscard]] std::vector<std::vector<std::size_t>> runs_of(const Chart& chart);

/// For each growth the largest chart that fits; of these the one that ends most cases, among those
/// that leave at most `most_left_in` of them with the fault still in (else the one that leaves
/// fewest). Ties go to the first growth.
/// @param growths  one at least
/// @param fits  true for a chart of no step
[[nodiscard]] Chart fitted(const moves::Setting& setting, const Complaint& complaint,
                           const std::vector<Growth>& growths, double most_left_in,
                           const std::function<bool(const Chart&)>& fits);

}  // namespace whichlink::chart
