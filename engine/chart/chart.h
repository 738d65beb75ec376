#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "chart/tree.h"
#include "guide/case.h"

namespace whichlink::chart {

/// How a way through a chart ends. `program`: the chart is cut there, and the case goes on.
enum class EndKind { mended, nothing_found, service, program };

struct End {
  EndKind kind = EndKind::program;
  double minutes = 0;    ///< from the start, with putting back; mean where ways are joined
  guide::Ending chores;  ///< without causes
};

/// Blame of several ways that are joined, each by its chance.
class Mixture {
 public:
  void add(double weight, const std::vector<Blame>& blame);
  /// Likeliest first.
  [[nodiscard]] std::vector<Blame> blame() const;

 private:
  std::map<std::string, double> sums_;
  double total_ = 0;
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
  std::string reason;        ///< as of guide::Advice
  std::string words;         ///< what the hands do
  double chance = 0;         ///< of coming here
  double minutes = 0;        ///< so far; mean where ways are joined
  std::vector<Blame> blame;  ///< before the answer, likeliest first
  std::vector<Row> rows;
  std::size_t node = 0;  ///< of the tree; the likeliest where ways are joined
};

/// What a chart comes to, exactly, by the belief's own forecast.
struct Numbers {
  double minutes = 0;  ///< expected, with putting back, to wherever it ends
  double mended = 0, nothing_found = 0, service = 0, program = 0;  ///< shares; add up to 1
  double service_soon = 0;  ///< of `service`, where the guide would save a little by going on
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

/// How a chart ends at a node that is not open in it.
[[nodiscard]] EndKind end_at(const Node& node);

/// These nodes of a tree, each with the one before it, less those from which every way only leaves
/// the chart. Where it is cut it calls service, if the trouble is still heard and the guide would
/// save little by going on; else it leaves the case to the program. Steps that say the same in
/// every word, and whatever follows them too, are one; so a chart has fewer steps than nodes.
[[nodiscard]] Chart chart_of(const moves::Setting& setting, const Tree& tree,
                             const std::set<std::size_t>& opened);

/// Steps in a row that are read as one: while nothing wrong is heard each leads to the next, from
/// nowhere else, and any other answer leaves the chart. Indices into Chart::steps, ascending; every
/// step is in one run.
[[nodiscard]] std::vector<std::vector<std::size_t>> runs_of(const Chart& chart);

/// How charts are made to fit their page.
struct Fitting {
  std::vector<Growth> growths;  ///< to choose from; one at least
  double soon_counts = 0.5;     ///< calling service too soon is worth so much of an ending
  double left_in_counts = 6;    ///< a fault left in weighs as much as so many cases that leave
  std::function<bool(const Chart&)> fits;  ///< true for a chart of no step; called by any thread
};

/// For each growth a chart that fits: while it is too large, it loses the branch that ends fewest
/// cases for its steps, and what still fits then is put back, the best first. Of these charts the
/// one that ends most cases, as they count. Ties go to
/// the first growth.
[[nodiscard]] Chart fitted(const moves::Setting& setting, const Complaint& complaint,
                           const Fitting& fitting);

/// The same for many complaints, on all cores; in their order.
/// @param progress  told the share done, from 0 to 1; may be empty
[[nodiscard]] std::vector<Chart> all_fitted(const moves::Setting& setting,
                                            const std::vector<Complaint>& complaints,
                                            const Fitting& fitting,
                                            const std::function<void(double)>& progress);

}  // namespace whichlink::chart
