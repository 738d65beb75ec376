#include "simulate/room.h"

#include <algorithm>

namespace whichlink::simulate {

Truth nothing_wrong(const moves::Setting& setting) {
  return {std::vector<belief::State>(setting.faults().size(), belief::kAbsent),
          setting.chain().home};
}

Room::Room(const moves::Setting& setting, Truth truth, std::size_t listener, std::uint64_t seed)
    : setting_(setting), truth_(std::move(truth)), listener_(listener), random_(seed) {}

std::size_t Room::draw(const std::vector<double>& chances) {
  double left = random_.uniform();
  for (std::size_t index = 0; index < chances.size(); ++index) {
    left -= chances[index];
    if (left < 0) return index;
  }
  // Rounding may leave a hair's breadth: the last that is possible at all.
  for (std::size_t index = chances.size(); index-- > 0;) {
    if (chances[index] > 0) return index;
  }
  return 0;
}

std::size_t Room::hear(const belief::Question& question) {
  const auto draw_severity = [&](const std::vector<double>& at_most) {
    std::vector<double> chances = at_most;
    for (std::size_t severity = chances.size(); severity-- > 1;) {
      chances[severity] -= chances[severity - 1];
    }
    return draw(chances);
  };
  std::size_t worst = draw_severity(question.leak_at_most);
  for (const std::uint32_t fault : question.path) {
    if (truth_.states[fault] != belief::kShowing) continue;
    worst = std::max(worst, draw_severity(setting_.network().at_most[question.sense][fault]));
  }
  return draw(question.report[worst]);
}

void Room::move_on(const std::vector<belief::Transition>& transitions) {
  for (const belief::Transition& one : transitions) {
    belief::State& state = truth_.states[one.fault];
    const belief::StateVector& row = one.matrix[state];
    state = static_cast<belief::State>(draw({row[0], row[1], row[2]}));
  }
}

std::size_t Room::complain(RouteId route) {
  const SignalId signal = setting_.chain().routes[route].signal;
  return complain(moves::complaint_of(setting_, route, truth_.real, listener_),
                  moves::settling(setting_, setting_.rules().signals[signal].sense));
}

std::size_t Room::complain(const belief::Question& complaint, const belief::Slice& settling) {
  const std::size_t heard = hear(complaint);
  if (heard != 0) move_on(settling.transitions);
  return heard;
}

std::size_t Room::respond(const moves::Standing& standing, const moves::Move& move) {
  return respond(standing, move,
                 moves::question_of(setting_, standing, move, truth_.real, listener_));
}

std::size_t Room::respond(const moves::Standing& standing, const moves::Move& move,
                          const belief::Question& question) {
  move_on(question.transitions);
  truth_.real = moves::patched_after(setting_, standing, move, truth_.real);
  return hear(question);
}

bool Room::sound(const moves::Standing& standing) const {
  const RouteId route = standing.route;
  const chain::Path path = setting_.tracer().trace(route, truth_.real).path;
  const chain::Path taken = setting_.tracer().trace(route, standing.patching).path;
  if (!path.complete || !taken.complete) return false;
  if (path.conductors.back() != taken.conductors.back()) return false;
  const std::vector<FaultId> faults = setting_.faults_on(path, route);
  return std::all_of(faults.begin(), faults.end(),
                     [&](FaultId fault) { return truth_.states[fault.value] == belief::kAbsent; });
}

}  // namespace whichlink::simulate
