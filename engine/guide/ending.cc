#include <algorithm>

#include "guide/chores.h"
#include "moves/standing.h"

namespace whichlink::guide {
namespace {

// A suspect is named as a cause from this chance on, and an element as ruled out below that one.
constexpr double kWorthNaming = 0.05;
constexpr double kHardlyPossible = 0.01;
// A part that was taken out is called bad from this chance on; below, it may go back.
constexpr double kCalledBad = 0.5;
constexpr std::size_t kMostCauses = 5;

void add_once(std::vector<std::string>& list, const std::string& line) {
  if (std::find(list.begin(), list.end(), line) == list.end()) list.push_back(line);
}

std::string exchange_of(const std::string& new_part, const std::string& old_part) {
  return "put " + new_part + " in for " + old_part;
}

// Gathers the closing page from the case, a function a heading.
class Closing {
 public:
  Closing(const Course& one, Stage stage)
      : case_(one),
        setting_(one.setting()),
        chain_(one.setting().chain()),
        rules_(one.setting().rules()),
        present_(one.belief().present_now()) {
    ending_.stage = stage;
  }

  Ending make() {
    causes();
    return chores();
  }

  Ending chores() {
    ending_.still_wrong = case_.belief().something_wrong(case_.standing());
    done_so_far();
    parts();
    ending_.put_back = moves::put_back_list(setting_, case_.standing());
    other_routes();
    ruled_out();
    for (const std::size_t caution : rules_.always) {
      ending_.cautions.push_back(rules_.cautions[caution].words);
    }
    return std::move(ending_);
  }

 private:
  void causes() {
    const moves::Standing at_first = moves::stand_at_start(setting_, case_.standing().route);
    const std::vector<bool> matters = plan::faults_that_matter(setting_, at_first);
    std::vector<FaultId> candidates;
    for (const FaultId fault : setting_.faults().ids()) {
      if (matters[fault.value]) candidates.push_back(fault);
    }
    const std::vector<double> chances = case_.belief().present_at_start(candidates);
    for (std::size_t index = 0; index < candidates.size(); ++index) {
      const FaultId fault = candidates[index];
      if (!setting_.faults()[fault].mode) ending_.unlisted = chances[index];
      ending_.all_causes.push_back({fault, setting_.name_of(fault), setting_.words_of(fault),
                                    setting_.family_of(fault), chances[index]});
    }
    const std::vector<double> arranged = case_.belief().arranged_at_start();
    for (std::size_t index = 1; index < arranged.size(); ++index) {
      const std::string& words = case_.belief().hypotheses()[index].arrangement.words;
      ending_.all_causes.push_back(
          {std::nullopt, "crossed plugs", words, "crossing", arranged[index]});
    }
    std::stable_sort(ending_.all_causes.begin(), ending_.all_causes.end(),
                     [](const Suspect& a, const Suspect& b) { return a.chance > b.chance; });
    for (const Suspect& cause : ending_.all_causes) {
      if (cause.chance < kWorthNaming || ending_.causes.size() == kMostCauses) break;
      ending_.causes.push_back(cause);
    }
  }

  void done_so_far() {
    for (const Step& step : case_.steps()) {
      if (!step.made) continue;
      const faults::Sense& sense = rules_.senses[step.move.sense];
      const bool sound = step.report.heard == sense.symptoms.front().name;
      if (std::holds_alternative<moves::ApplyStress>(step.move.action) ||
          std::holds_alternative<moves::StressRoute>(step.move.action)) {
        if (sound) {
          add_once(ending_.verified, moves::short_words(setting_, step.move));
        } else {
          ending_.verified.clear();
        }
        continue;
      }
      if (const auto* treat = std::get_if<moves::Treat>(&step.move.action)) {
        ending_.repairs.push_back(moves::short_words(setting_, step.move));
        for (const std::string& need : rules_.remedies[treat->remedy].needs_after) {
          add_once(ending_.needs_after, need);
        }
      } else if (std::holds_alternative<moves::TraceLabels>(step.move.action)) {
        ending_.repairs.push_back(moves::short_words(setting_, step.move));
      }
      if (!std::holds_alternative<moves::Listen>(step.move.action) &&
          !std::holds_alternative<moves::TryRoute>(step.move.action)) {
        ending_.verified.clear();
      }
    }
  }

  [[nodiscard]] double chance_bad(PartId part) const {
    return case_.belief().any_now(plan::faults_in(setting_, part));
  }

  // A spare that is in stays in if the old part is likely bad; else the old one goes back.
  void parts() {
    for (const moves::Substitute& swap : case_.standing().substituted) {
      const std::string& old_part = chain_.parts[swap.out].name;
      const std::string& new_part = chain_.parts[swap.in].name;
      const faults::PartKind& kind = rules_.part_kinds[chain_.parts[swap.out].kind];
      ending_.repairs.push_back(exchange_of(new_part, old_part));
      if (chance_bad(swap.out) >= kCalledBad) {
        ending_.throw_out.push_back(old_part);
      } else {
        ending_.return_to_drawer.push_back(old_part +
                                           " (not shown to be bad: label it \"checked, sound so "
                                           "far\" or put it back and listen again)");
      }
      for (const std::string& need : kind.needs_after) add_once(ending_.needs_after, need);
    }
    for (const Step& step : case_.steps()) {
      const auto* swap = std::get_if<moves::Substitute>(&step.move.action);
      if (swap == nullptr || !step.made || still_in(swap->in)) continue;
      const std::string& tried = chain_.parts[swap->in].name;
      if (chain_.parts[swap->in].spare && chance_bad(swap->in) >= kCalledBad) {
        add_once(ending_.throw_out, tried);
      } else {
        add_once(ending_.return_to_drawer, tried + " (only tried)");
      }
    }
  }

  [[nodiscard]] bool still_in(PartId part) const {
    const auto& in = case_.standing().substituted;
    return std::any_of(in.begin(), in.end(),
                       [&](const moves::Substitute& one) { return one.in == part; });
  }

  // A route is in doubt by what the case added to its suspicion, not by what every route may have.
  void other_routes() {
    const std::vector<belief::StateVector>& prior = setting_.network().prior;
    for (const RouteId route : chain_.routes.ids()) {
      const chain::Path path =
          setting_.tracer().trace(route, plan::settled(setting_, case_.standing())).path;
      double added = 0;
      for (const FaultId fault : setting_.faults_on(path, route)) {
        added += std::max(0.0, present_[fault.value] - (1 - prior[fault.value][belief::kAbsent]));
      }
      const bool own = route == case_.standing().route;
      const bool sound =
          own ? ending_.stage == Stage::mended || ending_.stage == Stage::nothing_found
              : added < kWorthNaming;
      auto& list = path.complete && sound ? ending_.works_meanwhile : ending_.do_not_use;
      list.push_back(chain_.routes[route].name);
    }
  }

  void ruled_out() {
    const chain::Path path = setting_.tracer().trace(case_.standing().route, chain_.home).path;
    for (const ElementId element : moves::elements_of(chain_, path)) {
      const double chance = case_.belief().any_now(plan::faults_in(setting_, element));
      if (chance < kHardlyPossible) ending_.ruled_out.push_back(chain_.elements[element].name);
    }
  }

  const Course& case_;
  const moves::Setting& setting_;
  const chain::Chain& chain_;
  const faults::Rules& rules_;
  std::vector<double> present_;
  Ending ending_;
};

}  // namespace

Ending Case::ending(Stage stage) const {
  return Closing(*course_, stage).make();
}

Ending chores_of(const Course& course, Stage stage) {
  return Closing(course, stage).chores();
}

}  // namespace whichlink::guide
