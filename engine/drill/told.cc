#include "drill/told.h"

#include <algorithm>
#include <cmath>

#include "moves/standing.h"

namespace whichlink::drill {
namespace {

// As the working belief has it.
constexpr std::size_t kSetSize = 2;
constexpr double kPrune = 1e-5;

/// Collects groups along a path, a joint or a length between joints at a time.
class Grouping {
 public:
  explicit Grouping(const guide::Case& one) : setting_(one.setting()), chain_(setting_.chain()) {
    const moves::Standing start = moves::stand_at_start(setting_, one.standing().route);
    along(start);
    along(one.standing());
    if (one.belief().hypotheses().size() > 1) {
      groups_.push_back({"plugs that are crossed", none(), {}, true});
    }
    Group unlisted{"a cause that is not listed", none(), {}, false};
    unlisted.mask[setting_.unlisted_of(one.standing().route).value] = true;
    groups_.push_back(std::move(unlisted));
  }

  std::vector<Group> take() { return std::move(groups_); }

 private:
  [[nodiscard]] std::vector<bool> none() const {
    std::vector<bool> mask(setting_.faults().size(), false);
    return mask;
  }

  [[nodiscard]] bool known(ElementId element) const {
    return std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
      return std::find(group.elements.begin(), group.elements.end(), element) !=
             group.elements.end();
    });
  }

  void along(const moves::Standing& standing) {
    const chain::Path path = setting_.tracer().trace(standing.route, standing.patching).path;
    for (const ElementId element : moves::elements_of(chain_, path)) {
      if (known(element)) continue;
      std::vector<ElementId> members{element};
      const auto partner = chain::mate(chain_, standing.patching, element);
      if (partner && !known(*partner)) members.push_back(*partner);
      add(members, standing.route);
    }
  }

  void add(const std::vector<ElementId>& members, RouteId route) {
    Group group{"", none(), members, false};
    const chain::Path path = setting_.tracer().trace(route, chain_.home).path;
    std::size_t faults = 0;
    for (const ElementId element : members) {
      for (const FaultId fault : setting_.faults_of(element)) {
        if (!on_lane(fault, path)) continue;
        group.mask[fault.value] = true;
        ++faults;
      }
    }
    if (faults == 0) return;
    const std::string& first = chain_.elements[members.front()].name;
    const bool is_joint = chain_.elements[members.front()].end != chain::End::neither;
    if (members.size() == 2) {
      group.words = first + " in " + chain_.elements[members.back()].name;
      if (chain_.elements[members.front()].end == chain::End::jack) {
        group.words = chain_.elements[members.back()].name + " in " + first;
      }
    } else {
      group.words = is_joint ? first : plain_name(members.front());
    }
    groups_.push_back(std::move(group));
  }

  // A part that has only one length between its joints goes by its own name.
  [[nodiscard]] std::string plain_name(ElementId element) const {
    const chain::Part& part = chain_.parts[chain_.elements[element].part];
    const auto lengths = std::count_if(
        part.elements.begin(), part.elements.end(),
        [&](ElementId other) { return chain_.elements[other].end == chain::End::neither; });
    return lengths == 1 ? part.name : chain_.elements[element].name;
  }

  // Of an element with several lanes, only the route's own counts.
  [[nodiscard]] bool on_lane(FaultId fault, const chain::Path& path) const {
    const auto lane = setting_.faults()[fault].lane;
    if (!lane || chain_.elements[chain_.conductors[*lane].element].conductors.size() < 2) {
      return true;
    }
    const auto& on = path.conductors;
    const bool home = std::find(on.begin(), on.end(), *lane) != on.end();
    const bool elsewhere = std::none_of(on.begin(), on.end(), [&](ConductorId conductor) {
      return chain_.conductors[conductor].element == chain_.conductors[*lane].element;
    });
    return home || elsewhere;
  }

  const moves::Setting& setting_;
  const chain::Chain& chain_;
  std::vector<Group> groups_;
};

std::vector<double> suspicion_by(const plan::CaseBelief& belief, const moves::Standing& standing,
                                 const std::vector<Group>& groups) {
  std::vector<double> chances;
  chances.reserve(groups.size());
  for (const Group& group : groups) {
    chances.push_back(group.plugs ? belief.crossed_now(standing) : belief.any_now(group.mask));
  }
  return chances;
}

}  // namespace

std::vector<Group> groups_of(const guide::Case& one) {
  return Grouping(one).take();
}

double any_at_start(const guide::Case& one, const std::vector<bool>& mask) {
  const auto evidence = [&](const belief::Network& network) {
    double sum = 0;
    for (const plan::Hypothesis& hypothesis : one.belief().hypotheses()) {
      sum +=
          hypothesis.arrangement.prior *
          std::exp(belief::by_subsets(network, hypothesis.slices, kSetSize, kPrune).log_evidence);
    }
    return sum;
  };
  belief::Network without = one.setting().network();
  double none_before = 1;
  for (std::size_t fault = 0; fault < mask.size(); ++fault) {
    if (!mask[fault]) continue;
    none_before *= without.prior[fault][belief::kAbsent];
    without.prior[fault] = {1, 0, 0};
  }
  const double all = evidence(one.setting().network());
  if (all <= 0) return 1 - none_before;
  return std::clamp(1 - none_before * evidence(without) / all, 0.0, 1.0);
}

std::vector<double> suspicion(const guide::Case& one, const std::vector<Group>& groups) {
  return suspicion_by(one.belief(), one.standing(), groups);
}

std::vector<double> suspicion_if(const guide::Case& one, const std::vector<Group>& groups,
                                 const moves::Move& move, std::size_t outcome) {
  const moves::Setting& setting = one.setting();
  const faults::Sense& sense = setting.rules().senses[move.sense];
  plan::CaseBelief belief = one.belief();
  belief.take_in(one.standing(), move, moves::weights_of_outcome(sense, outcome));
  if (!belief.possible()) return suspicion(one, groups);
  return suspicion_by(belief, moves::after(setting, one.standing(), move), groups);
}

}  // namespace whichlink::drill
