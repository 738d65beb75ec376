#include "guide/survey.h"

#include <algorithm>
#include <map>

#include "moves/arrangement.h"

namespace whichlink::guide {
namespace {

// How one fault answers to one move.
enum Trait : unsigned char { kHeard = 1, kProvoked = 2, kMended = 4 };

class Signatures {
 public:
  Signatures(const moves::Setting& setting, const std::vector<FaultId>& faults)
      : setting_(setting), faults_(faults), traits_(faults.size()) {}

  void add(const moves::Standing& standing, const moves::Move& move) {
    const belief::Question question =
        moves::question_of(setting_, standing, move, standing.patching, 0);
    for (std::size_t index = 0; index < faults_.size(); ++index) {
      const std::uint32_t fault = faults_[index].value;
      unsigned char traits = 0;
      const auto& path = question.path;
      if (std::binary_search(path.begin(), path.end(), fault)) {
        traits |= kHeard;
        sound_by_sense_[question.sense] = true;
      }
      const auto moved = std::lower_bound(
          question.transitions.begin(), question.transitions.end(), fault,
          [](const belief::Transition& one, std::uint32_t id) { return one.fault < id; });
      if (moved != question.transitions.end() && moved->fault == fault) {
        if (provoked(faults_[index], moved->matrix)) traits |= kProvoked;
        if (moved->matrix[belief::kShowing][belief::kAbsent] > 0) traits |= kMended;
      }
      traits_[index].push_back(static_cast<char>(traits));
    }
  }

  [[nodiscard]] std::vector<Lookalikes> groups() const {
    std::map<std::string, std::vector<FaultId>> by_signature;
    for (std::size_t index = 0; index < faults_.size(); ++index) {
      std::string signature = traits_[index];
      for (const auto& [sense, used] : sound_by_sense_) {
        const auto& at_most = setting_.network().at_most[sense][faults_[index].value];
        double below = 0;
        for (const double value : at_most) {
          signature.push_back(value > below ? 1 : 0);
          below = value;
        }
      }
      by_signature[signature].push_back(faults_[index]);
    }
    std::vector<Lookalikes> groups;
    for (auto& [signature, faults] : by_signature) {
      if (faults.size() > 1) groups.push_back({faults});
    }
    std::sort(groups.begin(), groups.end(), [](const Lookalikes& a, const Lookalikes& b) {
      return a.faults.front() < b.faults.front();
    });
    return groups;
  }

 private:
  // More likely to show after the move than when it is left alone.
  [[nodiscard]] bool provoked(FaultId fault, const belief::StateMatrix& matrix) const {
    const std::optional<ModeId> mode = setting_.faults()[fault].mode;
    if (!mode) return false;
    const double shows = setting_.rules().modes[*mode].chance_shows;
    return matrix[belief::kQuiet][belief::kShowing] > shows;
  }

  const moves::Setting& setting_;
  const std::vector<FaultId>& faults_;
  std::vector<std::string> traits_;
  std::map<std::size_t, bool> sound_by_sense_;
};

RouteSurvey survey_route(const moves::Setting& setting, RouteId route) {
  RouteSurvey survey;
  survey.route = route;
  const moves::Standing start = moves::stand_at_start(setting, route);
  survey.path = setting.tracer().trace(route, start.patching).path;
  survey.moves = moves::derive_moves(setting, start);
  const std::vector<FaultId> faults = setting.faults_on(survey.path, route);
  Signatures signatures(setting, faults);
  for (const moves::Move& move : survey.moves) {
    signatures.add(start, move);
    const moves::Standing next = moves::after(setting, start, move);
    if (next.patching == start.patching) continue;
    for (const moves::Move& second : moves::derive_moves(setting, next)) {
      signatures.add(next, second);
    }
  }
  survey.lookalikes = signatures.groups();
  for (const FaultId fault : faults) {
    const std::optional<ModeId> mode = setting.faults()[fault].mode;
    survey.faults_per_year += mode ? setting.rules().modes[*mode].rate.mid_per_year
                                   : setting.rules().unlisted.rate.mid_per_year;
  }
  return survey;
}

}  // namespace

Survey survey_of(const moves::Setting& setting) {
  Survey survey;
  for (const RouteId route : setting.chain().routes.ids()) {
    survey.routes.push_back(survey_route(setting, route));
  }
  return survey;
}

}  // namespace whichlink::guide
