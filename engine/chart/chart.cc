#include "chart/chart.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "guide/chores.h"
#include "moves/words.h"

namespace whichlink::chart {
namespace {

// Where going on saves fewer priced minutes than this, a chart that is cut calls service (judged:
// a visit is priced at an hour and more).
constexpr double kLeastSaving = 5;

// What was blamed this much, and is blamed this little after an answer, is cleared by it (judged).
constexpr double kInQuestion = 0.1;
constexpr double kCleared = 0.02;

double blame_of(const std::vector<Blame>& blame, const std::string& what) {
  for (const Blame& one : blame) {
    if (one.what == what) return one.chance;
  }
  return 0;
}

/// A row while ways are still being joined.
struct Branch {
  std::vector<std::size_t> outcomes;
  bool is_remnant = false;
  double mass = 0;                   // chance, from the start, of answering so
  std::optional<std::size_t> joint;  // index into Folder::joints_
  EndKind kind = EndKind::program;
  double minutes_mass = 0;  // of an end: sum of chance times minutes
  guide::Ending chores;
  Mixture before, after;
};

/// Steps that say the same.
struct Joint {
  double mass = 0, minutes_mass = 0;
  std::size_t node = 0;
  double node_chance = 0;
  std::string words;
  std::vector<Branch> branches;
};

/// What a reader of a step sees, that of the steps which follow it by their number.
std::string seen(const std::vector<std::string>& lines) {
  std::string all;
  for (const std::string& line : lines) all += line + "\n";
  return all;
}

class Folder {
 public:
  Folder(const moves::Setting& setting, const Tree& tree, const std::set<std::size_t>& opened)
      : setting_(setting), tree_(tree) {
    keep_useful(0, opened);
  }

  Chart fold() {
    Chart chart;
    chart.complaint = tree_.complaint;
    if (!opened_.contains(0)) {
      const Branch end = ended(0, {});
      chart.at_once = End{end.kind, end.minutes_mass, end.chores};
      count(end.kind, end.mass, end.minutes_mass, end.chores.still_wrong, chart.numbers);
      chart.numbers.service_soon = service_soon(0);
      return chart;
    }
    number(join(0));
    for (const std::size_t joint : order_) chart.steps.push_back(step_of(joints_[joint]));
    add_up(chart.numbers);
    return chart;
  }

 private:
  // Keeps the nodes from which some way ends otherwise than by leaving the chart.
  bool keep_useful(std::size_t index, const std::set<std::size_t>& opened) {
    const Node& node = tree_.nodes[index];
    if (!opened.contains(index)) return end_at(node) != EndKind::program;
    bool is_useful = false;
    for (const Answer& answer : node.answers) {
      is_useful = keep_useful(answer.node, opened) || is_useful;
    }
    if (is_useful) opened_.insert(index);
    return is_useful;
  }

  // The end that a node is, where it is not opened.
  [[nodiscard]] Branch ended(std::size_t index, const std::vector<std::size_t>& outcomes) const {
    const Node& node = tree_.nodes[index];
    Branch end;
    end.outcomes = outcomes;
    end.is_remnant = !node.course;
    end.mass = node.chance;
    end.kind = end_at(node);
    double minutes = node.minutes;
    if (node.course) {
      end.chores = guide::chores_of(*node.course, node.stage);
      minutes += moves::put_back_minutes(setting_, node.course->standing());
    }
    end.minutes_mass = node.chance * minutes;
    return end;
  }

  // The joint of an opened node, with all that follows it.
  std::size_t join(std::size_t index) {
    const Node& node = tree_.nodes[index];
    Joint joint;
    joint.mass = node.chance;
    joint.minutes_mass = node.chance * node.minutes;
    joint.node = index;
    joint.node_chance = node.chance;
    joint.words = moves::handling(setting_, node.course->standing(), *node.move);
    std::vector<std::string> lines{node.move->name, joint.words};
    for (const Answer& answer : node.answers) {
      Branch branch;
      if (opened_.contains(answer.node)) {
        branch.outcomes = answer.outcomes;
        branch.mass = tree_.nodes[answer.node].chance;
        branch.joint = join(answer.node);
      } else {
        branch = ended(answer.node, answer.outcomes);
      }
      branch.before.add(branch.mass, node.blame);
      branch.after.add(branch.mass, tree_.nodes[answer.node].blame);
      lines.push_back(line_of(branch));
      joint.branches.push_back(std::move(branch));
    }
    return joined(seen(lines), std::move(joint));
  }

  [[nodiscard]] static std::string line_of(const Branch& branch) {
    std::string line;
    for (const std::size_t outcome : branch.outcomes) line += std::to_string(outcome) + ",";
    if (branch.joint) return line + "go to " + std::to_string(*branch.joint);
    line += std::to_string(static_cast<int>(branch.kind)) + (branch.is_remnant ? "remnant" : "");
    for (const auto* list : {&branch.chores.put_back, &branch.chores.needs_after,
                             &branch.chores.throw_out, &branch.chores.return_to_drawer}) {
      for (const std::string& one : *list) line += ";" + one;
      line += "|";
    }
    return line;
  }

  std::size_t joined(const std::string& all_seen, Joint joint) {
    const auto [place, is_new] = known_.try_emplace(all_seen, joints_.size());
    if (is_new) {
      joints_.push_back(std::move(joint));
      return place->second;
    }
    Joint& old = joints_[place->second];
    old.mass += joint.mass;
    old.minutes_mass += joint.minutes_mass;
    if (joint.node_chance > old.node_chance) {
      old.node = joint.node;
      old.node_chance = joint.node_chance;
    }
    for (std::size_t index = 0; index < old.branches.size(); ++index) {
      Branch& to = old.branches[index];
      const Branch& from = joint.branches[index];
      to.before.add(from.mass, from.before.blame());
      to.after.add(from.mass, from.after.blame());
      to.chores.still_wrong =
          to.mass + from.mass > 0
              ? (to.mass * to.chores.still_wrong + from.mass * from.chores.still_wrong) /
                    (to.mass + from.mass)
              : 0;
      to.mass += from.mass;
      to.minutes_mass += from.minutes_mass;
    }
    return place->second;
  }

  // Numbers the steps so that every answer leads onward, the likeliest to the next step if it can.
  void number(std::size_t first) {
    visit(first);
    std::reverse(order_.begin(), order_.end());
    for (std::size_t index = 0; index < order_.size(); ++index) place_of_[order_[index]] = index;
  }
  void visit(std::size_t joint) {
    if (!visited_.insert(joint).second) return;
    std::vector<const Branch*> onward;
    for (const Branch& branch : joints_[joint].branches) {
      if (branch.joint) onward.push_back(&branch);
    }
    std::stable_sort(onward.begin(), onward.end(),
                     [](const Branch* a, const Branch* b) { return a->mass < b->mass; });
    for (const Branch* branch : onward) visit(*branch->joint);
    order_.push_back(joint);
  }

  [[nodiscard]] Step step_of(const Joint& joint) const {
    const Node& node = tree_.nodes[joint.node];
    Step step{*node.move, node.reason, joint.words, joint.mass, joint.minutes_mass / joint.mass,
              {},         {},          joint.node};
    Mixture before;
    for (const Branch& branch : joint.branches) {
      before.add(branch.mass, branch.before.blame());
      Row row;
      row.outcomes = branch.outcomes;
      row.is_remnant = branch.is_remnant;
      row.chance = branch.mass / joint.mass;
      row.blame = branch.after.blame();
      if (branch.joint) {
        row.next = place_of_.at(*branch.joint);
      } else {
        const double minutes = branch.mass > 0 ? branch.minutes_mass / branch.mass : 0;
        row.end = End{branch.kind, minutes, branch.chores};
      }
      for (const Blame& one : branch.before.blame()) {
        if (!branch.is_remnant && one.chance >= kInQuestion &&
            blame_of(row.blame, one.what) < kCleared) {
          row.cleared.push_back(one.what);
        }
      }
      step.rows.push_back(std::move(row));
    }
    step.blame = before.blame();
    std::stable_sort(step.rows.begin(), step.rows.end(), [](const Row& a, const Row& b) {
      const auto rank = [](const Row& row) {
        return row.is_remnant ? 2 : row.outcomes.front() == 0 ? 0 : 1;
      };
      if (rank(a) != rank(b)) return rank(a) < rank(b);
      return a.chance > b.chance;
    });
    return step;
  }

  static void count(EndKind kind, double mass, double minutes_mass, double still_wrong,
                    Numbers& numbers) {
    numbers.minutes += minutes_mass;
    switch (kind) {
      case EndKind::mended:
        numbers.mended += mass;
        numbers.left_in += mass * still_wrong;
        break;
      case EndKind::nothing_found:
        numbers.nothing_found += mass;
        numbers.left_in += mass * still_wrong;
        break;
      case EndKind::service:
        numbers.service += mass;
        break;
      case EndKind::program:
        numbers.program += mass;
        break;
    }
  }

  // Chance of service where the guide would go on.
  [[nodiscard]] double service_soon(std::size_t index) const {
    const Node& node = tree_.nodes[index];
    if (!opened_.contains(index)) {
      const bool soon = node.stage == guide::Stage::under_way && end_at(node) == EndKind::service;
      return soon ? node.chance : 0;
    }
    double sum = 0;
    for (const Answer& answer : node.answers) sum += service_soon(answer.node);
    return sum;
  }

  void add_up(Numbers& numbers) const {
    numbers.service_soon = service_soon(0);
    for (const Joint& joint : joints_) {
      for (const Branch& branch : joint.branches) {
        if (branch.joint) continue;
        count(branch.kind, branch.mass, branch.minutes_mass, branch.chores.still_wrong, numbers);
      }
    }
  }

  const moves::Setting& setting_;
  const Tree& tree_;
  std::set<std::size_t> opened_;
  std::vector<Joint> joints_;
  std::map<std::string, std::size_t> known_;
  std::set<std::size_t> visited_;
  std::vector<std::size_t> order_;
  std::map<std::size_t, std::size_t> place_of_;
};

}  // namespace

std::vector<Blame> Mixture::blame() const {
  std::vector<Blame> all;
  for (const auto& [what, sum] : sums_) all.push_back({what, total_ > 0 ? sum / total_ : 0});
  std::stable_sort(all.begin(), all.end(),
                   [](const Blame& a, const Blame& b) { return a.chance > b.chance; });
  return all;
}

void Mixture::add(double weight, const std::vector<Blame>& blame) {
  total_ += weight;
  for (const Blame& one : blame) sums_[one.what] += weight * one.chance;
}

EndKind end_at(const Node& node) {
  switch (node.stage) {
    case guide::Stage::mended:
      return EndKind::mended;
    case guide::Stage::nothing_found:
      return EndKind::nothing_found;
    case guide::Stage::handed_over:
      return EndKind::service;
    case guide::Stage::under_way:
      break;
  }
  const bool is_heard = node.course && node.course->track().heard_wrong();
  return is_heard && node.saves < kLeastSaving ? EndKind::service : EndKind::program;
}

Chart chart_of(const moves::Setting& setting, const Tree& tree,
               const std::set<std::size_t>& opened) {
  return Folder(setting, tree, opened).fold();
}

std::vector<std::vector<std::size_t>> runs_of(const Chart& chart) {
  std::vector<std::size_t> ways_in(chart.steps.size(), 0);
  for (const Step& step : chart.steps) {
    for (const Row& row : step.rows) {
      if (row.next) ++ways_in[*row.next];
    }
  }
  const auto passes_on = [&](const Step& step) {
    return std::all_of(step.rows.begin(), step.rows.end(), [&](const Row& row) {
      const bool nothing_wrong = !row.is_remnant && row.outcomes.front() == 0;
      if (!nothing_wrong) return row.end && row.end->kind == EndKind::program;
      return row.next && ways_in[*row.next] == 1;
    });
  };
  std::vector<std::vector<std::size_t>> runs;
  bool goes_on = false;
  for (std::size_t index = 0; index < chart.steps.size(); ++index) {
    if (!goes_on) runs.emplace_back();
    runs.back().push_back(index);
    const Step& step = chart.steps[index];
    goes_on =
        !step.rows.front().is_remnant && step.rows.front().outcomes.front() == 0 && passes_on(step);
  }
  return runs;
}

}  // namespace whichlink::chart
