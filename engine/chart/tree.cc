#include "chart/tree.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "moves/standing.h"

namespace whichlink::chart {
namespace {

// Answers that come in fewer of all cases are not followed, and no node that is reached in fewer is
// opened (judged: a box for one case in 100 is not read).
constexpr double kRarestAnswer = 0.002;
constexpr double kRarestStep = 0.01;
// Who is blamed less is not worth a word (judged).
constexpr double kLeastBlame = 0.02;

const faults::Sense& sense_of(const moves::Setting& setting, const moves::Move& move) {
  return setting.rules().senses[move.sense];
}

moves::ReportWeights weights_of_any(const faults::Sense& sense,
                                    const std::vector<std::size_t>& outcomes) {
  moves::ReportWeights sum = moves::weights_of_nothing(sense);
  std::fill(sum.begin(), sum.end(), 0.0);
  for (const std::size_t outcome : outcomes) sum[outcome] = 1;
  return sum;
}

std::vector<Blame> blame_in(const guide::Course& course) {
  const moves::Setting& setting = course.setting();
  const chain::Chain& chain = setting.chain();
  std::vector<bool> matters = plan::faults_that_matter(setting, course.standing());
  const std::vector<bool> at_first =
      plan::faults_that_matter(setting, moves::stand_at_start(setting, course.route()));
  std::map<std::string, std::vector<bool>> faults;  // by what: a mask
  for (const FaultId fault : setting.faults().ids()) {
    if (!matters[fault.value] && !at_first[fault.value]) continue;
    const auto element = setting.faults()[fault].element;
    const std::string what = element ? chain.parts[chain.elements[*element].part].name : kNotListed;
    faults.try_emplace(what, setting.faults().size(), false).first->second[fault.value] = true;
  }
  std::map<std::string, double> chances;
  for (const auto& [what, mask] : faults) chances[what] = course.belief().any_now(mask);
  chances[kCrossed] = course.belief().crossed_now(course.standing());
  std::vector<Blame> blame;
  for (const auto& [what, chance] : chances) {
    if (chance >= kLeastBlame) blame.push_back({what, chance});
  }
  std::stable_sort(blame.begin(), blame.end(),
                   [](const Blame& a, const Blame& b) { return a.chance > b.chance; });
  return blame;
}

/// What the guide says, in short.
struct Says {
  guide::Stage stage = guide::Stage::under_way;
  std::string move;
  friend bool operator==(const Says&, const Says&) = default;
};

Says said_by(const Node& node) {
  return {node.stage, node.move ? node.move->name : ""};
}

// Stresses the whole route, or closes, where that leaves no more doubt than is allowed.
void close_soon(const guide::Course& course, double doubt, guide::Advice& advice) {
  if (advice.stage != guide::Stage::under_way || course.track().heard_wrong() ||
      course.standing().temporary) {
    return;
  }
  const guide::Track& track = course.track();
  if (track.verified() && advice.plan.something_wrong <= doubt) {
    advice.stage = track.anything_changed() ? guide::Stage::mended : guide::Stage::nothing_found;
    advice.move.reset();
    advice.reason = kCloseSoon;
    return;
  }
  const std::optional<moves::Move> stress = track.verification();
  if (!stress || stress->name == advice.move->name) return;
  const plan::Prediction stood = course.belief().predict(course.standing(), *stress);
  if (stood.front().something_wrong > doubt) return;
  advice.move = stress;
  advice.reason = kCloseSoon;
}

Node node_at(std::shared_ptr<const guide::Course> course, const Growth& growth) {
  guide::Advice advice = course->advise(plan::Aim::time, growth.depth);
  if (growth.doubt > 0) close_soon(*course, growth.doubt, advice);
  Node node;
  node.minutes = course->track().minutes_spent();
  node.stage = advice.stage;
  node.move = std::move(advice.move);
  node.reason = std::move(advice.reason);
  double least = std::min(advice.plan.close_minutes, advice.plan.service_minutes);
  if (!advice.plan.candidates.empty()) {
    least = std::min(least, advice.plan.candidates.front().expected_minutes);
  }
  node.saves = advice.plan.service_minutes - least;
  node.course = std::move(course);
  return node;
}

/// Opens nodes.
class Grower {
 public:
  Grower(const moves::Setting& setting, const Complaint& complaint, const Growth& growth)
      : setting_(setting), growth_(growth) {
    tree_.complaint = complaint;
  }

  Tree grow() {
    const SignalId signal = setting_.chain().routes[tree_.complaint.route].signal;
    const faults::Sense& sense = setting_.rules().senses[setting_.rules().signals[signal].sense];
    tree_.nodes.push_back(node_at(
        std::make_shared<guide::Course>(setting_, tree_.complaint.route, tree_.complaint.listener,
                                        weights_of_any(sense, tree_.complaint.outcomes)),
        growth_));
    tree_.nodes.front().blame = blame_in(*tree_.nodes.front().course);
    while (tree_.opened.size() < growth_.most_opened) {
      const std::optional<std::size_t> next = worth_most();
      if (!next) break;
      open(*next);
    }
    return std::move(tree_);
  }

 private:
  [[nodiscard]] std::optional<std::size_t> worth_most() const {
    std::optional<std::size_t> best;
    double most = 0;
    for (std::size_t index = 0; index < tree_.nodes.size(); ++index) {
      const Node& node = tree_.nodes[index];
      if (!node.move || !node.answers.empty() || node.chance < kRarestStep) continue;
      const double worth = node.chance * node.saves;
      if (worth <= most) continue;
      most = worth;
      best = index;
    }
    return best;
  }

  void open(std::size_t index) {
    const Node node = tree_.nodes[index];
    const moves::Move& move = *node.move;
    const plan::Prediction predicted = node.course->belief().predict(node.course->standing(), move);
    std::vector<Branch> branches;
    Branch remnant;
    for (std::size_t outcome = 0; outcome < predicted.size(); ++outcome) {
      const double chance = predicted[outcome].chance;
      std::optional<Node> child;
      if (chance * node.chance >= kRarestAnswer) child = child_of(node, {outcome}, outcome);
      if (!child) {
        remnant.outcomes.push_back(outcome);
        remnant.chance += chance;
        continue;
      }
      branches.push_back({{outcome}, chance, std::move(*child)});
    }
    tree_.opened.push_back(index);
    for (Branch& branch : grouped(node, std::move(branches))) add(index, std::move(branch));
    if (!remnant.outcomes.empty()) add(index, std::move(remnant));
  }

  struct Branch {
    std::vector<std::size_t> outcomes;
    double chance = 0;
    Node node;
  };

  // Nothing where the report cannot be.
  [[nodiscard]] std::optional<Node> child_of(const Node& node,
                                             const std::vector<std::size_t>& outcomes,
                                             std::size_t likeliest) const {
    const faults::Sense& sense = sense_of(setting_, *node.move);
    auto course = std::make_shared<guide::Course>(*node.course);
    course->take(*node.move, {sense.outcome_name(likeliest), std::nullopt},
                 weights_of_any(sense, outcomes));
    if (!course->possible()) return std::nullopt;
    return node_at(std::move(course), growth_);
  }

  [[nodiscard]] std::vector<Branch> grouped(const Node& node, std::vector<Branch> branches) const {
    std::vector<std::vector<Branch>> groups;
    for (Branch& branch : branches) {
      const bool alone = branch.outcomes.front() == 0;
      const auto same = std::find_if(groups.begin(), groups.end(), [&](const auto& group) {
        return !alone && group.front().outcomes.front() != 0 &&
               said_by(group.front().node) == said_by(branch.node);
      });
      if (same == groups.end()) {
        groups.emplace_back();
        groups.back().push_back(std::move(branch));
      } else {
        same->push_back(std::move(branch));
      }
    }
    std::vector<Branch> merged;
    for (std::vector<Branch>& group : groups) {
      std::optional<Branch> one = group.size() > 1 ? merge(node, group) : std::nullopt;
      if (one) {
        merged.push_back(std::move(*one));
      } else {
        for (Branch& branch : group) merged.push_back(std::move(branch));
      }
    }
    return merged;
  }

  // Nothing where the guide would go on otherwise once it is not told which of them it was.
  [[nodiscard]] std::optional<Branch> merge(const Node& node,
                                            const std::vector<Branch>& group) const {
    Branch all;
    const Branch* likeliest = &group.front();
    for (const Branch& branch : group) {
      all.outcomes.push_back(branch.outcomes.front());
      all.chance += branch.chance;
      if (branch.chance > likeliest->chance) likeliest = &branch;
    }
    std::optional<Node> child = child_of(node, all.outcomes, likeliest->outcomes.front());
    if (!child || said_by(*child) != said_by(group.front().node)) return std::nullopt;
    all.node = std::move(*child);
    return all;
  }

  void add(std::size_t parent, Branch branch) {
    const std::size_t child = tree_.nodes.size();
    branch.node.chance = tree_.nodes[parent].chance * branch.chance;
    if (branch.node.course) {
      branch.node.blame = blame_in(*branch.node.course);
    } else {
      branch.node.minutes = tree_.nodes[parent].minutes + tree_.nodes[parent].move->minutes;
    }
    tree_.nodes.push_back(std::move(branch.node));
    tree_.nodes[parent].answers.push_back({std::move(branch.outcomes), branch.chance, child});
  }

  const moves::Setting& setting_;
  Growth growth_;
  Tree tree_;
};

}  // namespace

Tree grow(const moves::Setting& setting, const Complaint& complaint, const Growth& growth) {
  return Grower(setting, complaint, growth).grow();
}

guide::Advice after(const Node& node, const std::string& word, const plan::Depth& depth) {
  guide::Course course = *node.course;
  const guide::Report report{word, std::nullopt};
  if (word == guide::kCannotDo) {
    course.pass_over(*node.move, report);
  } else {
    course.take(*node.move, report,
                moves::weights_of_nothing(sense_of(course.setting(), *node.move)));
  }
  return course.advise(plan::Aim::time, depth);
}

std::vector<Complaint> complaints_of(const moves::Setting& setting, RouteId route,
                                     std::size_t listener, double least_share,
                                     const plan::Depth& depth) {
  const SignalId signal = setting.chain().routes[route].signal;
  const faults::Sense& sense = setting.rules().senses[setting.rules().signals[signal].sense];
  struct One {
    Complaint complaint;
    bool has_level = false;
    Says says;
  };
  const auto begin = [&](const std::vector<std::size_t>& outcomes) {
    return guide::Course(setting, route, listener, weights_of_any(sense, outcomes));
  };
  std::vector<One> all;
  double total = 0;
  const std::size_t count = sense.severities() + (sense.elsewhere ? 1 : 0);
  for (std::size_t outcome = 1; outcome < count; ++outcome) {
    const guide::Course course = begin({outcome});
    if (!course.possible()) continue;
    const double chance = std::exp(course.belief().picture(course.standing()).log_evidence);
    total += chance;
    all.push_back({{route, listener, {outcome}, chance},
                   outcome < sense.severities() && sense.symptoms[outcome].drop_db.has_value(),
                   {}});
  }
  const auto says = [&](const std::vector<std::size_t>& outcomes) {
    const guide::Advice advice = begin(outcomes).advise(plan::Aim::time, depth);
    return Says{advice.stage, advice.move ? advice.move->name : ""};
  };
  std::vector<One> merged;
  for (One& one : all) {
    if (!one.has_level) {
      merged.push_back(std::move(one));
      continue;
    }
    one.says = says(one.complaint.outcomes);
    if (!merged.empty() && merged.back().has_level && merged.back().says == one.says) {
      Complaint both = merged.back().complaint;
      both.outcomes.push_back(one.complaint.outcomes.front());
      both.share += one.complaint.share;
      if (says(both.outcomes) == one.says) {
        merged.back().complaint = std::move(both);
        continue;
      }
    }
    merged.push_back(std::move(one));
  }
  std::vector<Complaint> wanted;
  for (One& one : merged) {
    one.complaint.share /= total;
    if (one.complaint.share >= least_share) wanted.push_back(std::move(one.complaint));
  }
  std::stable_sort(wanted.begin(), wanted.end(),
                   [](const Complaint& a, const Complaint& b) { return a.share > b.share; });
  return wanted;
}

}  // namespace whichlink::chart
