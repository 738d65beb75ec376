#include <algorithm>
#include <atomic>
#include <mutex>

#include "base/cores.h"
#include "chart/chart.h"

namespace whichlink::chart {
namespace {

double worth_of(const Numbers& numbers, const Fitting& fitting) {
  return 1 - numbers.program - (1 - fitting.soon_counts) * numbers.service_soon -
         fitting.left_in_counts * numbers.left_in;
}

/// Cuts a tree until its chart fits.
class Pruner {
 public:
  Pruner(const moves::Setting& setting, const Tree& tree, const Fitting& fitting)
      : setting_(setting),
        tree_(tree),
        fitting_(fitting),
        kept_(tree.opened.begin(), tree.opened.end()) {}

  Chart prune() {
    Chart chart = chart_of(setting_, tree_, kept_);
    while (!kept_.empty() && !fitting_.fits(chart)) {
      cut_.push_back(take_worst());
      chart = chart_of(setting_, tree_, kept_);
    }
    std::stable_sort(cut_.begin(), cut_.end(),
                     [](const Branch& a, const Branch& b) { return a.worth > b.worth; });
    for (const Branch& branch : cut_) {
      if (branch.root != 0 && !kept_.contains(parents_[branch.root])) continue;
      std::set<std::size_t> more = kept_;
      more.insert(branch.nodes.begin(), branch.nodes.end());
      Chart larger = chart_of(setting_, tree_, more);
      if (!fitting_.fits(larger)) continue;
      kept_ = std::move(more);
      chart = std::move(larger);
    }
    return chart;
  }

 private:
  struct Branch {
    std::size_t root = 0;
    double worth = 0;  // cases that it ends on the page, for each of its steps
    std::vector<std::size_t> nodes;
  };

  // What a node is worth where it is not open.
  [[nodiscard]] double worth_unopened(const Node& node) const {
    if (end_at(node) == EndKind::program) return 0;
    const bool soon = node.stage == guide::Stage::under_way;
    return node.chance * (soon ? fitting_.soon_counts : 1);
  }

  // Cases that end on the page below a node, as they count.
  double ended(std::size_t index, std::vector<std::size_t>& nodes) {
    const Node& node = tree_.nodes[index];
    if (!kept_.contains(index)) return worth_unopened(node);
    nodes.push_back(index);
    double sum = 0;
    for (const Answer& answer : node.answers) {
      parents_[answer.node] = index;
      sum += ended(answer.node, nodes);
    }
    return sum;
  }

  Branch take_worst() {
    std::optional<Branch> worst;
    for (const std::size_t index : kept_) {
      if (index == 0 && kept_.size() > 1) continue;
      const Node& node = tree_.nodes[index];
      Branch branch{index, 0, {}};
      const double gained = ended(index, branch.nodes) - worth_unopened(node);
      branch.worth = gained / static_cast<double>(branch.nodes.size());
      if (!worst || branch.worth < worst->worth) worst = std::move(branch);
    }
    for (const std::size_t index : worst->nodes) kept_.erase(index);
    return std::move(*worst);
  }

  const moves::Setting& setting_;
  const Tree& tree_;
  const Fitting& fitting_;
  std::set<std::size_t> kept_;
  std::vector<Branch> cut_;
  std::map<std::size_t, std::size_t> parents_;
};

}  // namespace

Chart fitted(const moves::Setting& setting, const Complaint& complaint, const Fitting& fitting) {
  std::optional<Chart> best;
  for (const Growth& growth : fitting.growths) {
    const Tree tree = grow(setting, complaint, growth);
    Chart chart = Pruner(setting, tree, fitting).prune();
    const double worth = worth_of(chart.numbers, fitting);
    if (!best || worth > worth_of(best->numbers, fitting)) best = std::move(chart);
  }
  return std::move(*best);
}

std::vector<Chart> all_fitted(const moves::Setting& setting,
                              const std::vector<Complaint>& complaints, const Fitting& fitting,
                              const std::function<void(double)>& progress) {
  std::vector<Chart> charts(complaints.size());
  std::atomic<std::size_t> next{0};
  std::mutex telling;
  std::size_t done = 0;
  on_every_core([&](std::size_t /*worker*/, std::size_t /*workers*/) {
    for (std::size_t index = next++; index < complaints.size(); index = next++) {
      charts[index] = fitted(setting, complaints[index], fitting);
      const std::scoped_lock lock(telling);
      ++done;
      if (progress) progress(static_cast<double>(done) / static_cast<double>(complaints.size()));
    }
  });
  return charts;
}

}  // namespace whichlink::chart
