#include "flat/numbers.h"

#include <algorithm>

namespace whichlink::flat {
namespace {

// Chance of each severity being the worst heard.
std::vector<double> worst_heard(const belief::Network& network, std::size_t sense,
                                const std::vector<std::uint32_t>& path,
                                const std::vector<double>& leak_at_most,
                                const std::vector<FaultId>& showing) {
  std::vector<double> chances = leak_at_most;
  for (const FaultId fault : showing) {
    if (!std::binary_search(path.begin(), path.end(), fault.value)) continue;
    const std::vector<double>& at_most = network.at_most[sense][fault.value];
    for (std::size_t severity = 0; severity < chances.size(); ++severity) {
      chances[severity] *= at_most[severity];
    }
  }
  for (std::size_t severity = chances.size(); severity-- > 1;) {
    chances[severity] -= chances[severity - 1];
  }
  return chances;
}

std::vector<FaultId> showing_in(const std::vector<FaultId>& faults, const FaultStates& states) {
  std::vector<FaultId> showing;
  for (std::size_t index = 0; index < faults.size(); ++index) {
    if (states[index] == belief::kShowing) showing.push_back(faults[index]);
  }
  return showing;
}

bool always_reports_the_same(const std::vector<std::size_t>& grounds, std::size_t move,
                             const std::vector<std::vector<Numbers>>& numbers) {
  const std::vector<double>& first = numbers[grounds.front()][move].report.front();
  return std::all_of(grounds.begin(), grounds.end(), [&](std::size_t ground) {
    const auto& report = numbers[ground][move].report;
    return std::all_of(report.begin(), report.end(),
                       [&](const std::vector<double>& row) { return row == first; });
  });
}

// Wherever the standing's plugs may really be, b does what a does, and tells what a tells, if a
// tells anything.
bool does_as_much(const std::vector<std::size_t>& grounds, std::size_t a, std::size_t b,
                  const std::vector<std::vector<Numbers>>& numbers) {
  const bool tells = !always_reports_the_same(grounds, a, numbers);
  return std::all_of(grounds.begin(), grounds.end(), [&](std::size_t ground) {
    const Numbers& one = numbers[ground][a];
    const Numbers& other = numbers[ground][b];
    if (one.to != other.to || one.matrices != other.matrices) return false;
    return !tells || (one.sense == other.sense && one.report == other.report);
  });
}

template <class Value>
void keep_only(std::vector<Value>& values, const std::vector<bool>& needed) {
  std::size_t index = 0;
  std::erase_if(values, [&](const Value&) { return !needed[index++]; });
}

}  // namespace

std::vector<belief::StateMatrix> Kept::matrices(
    const std::vector<belief::Transition>& transitions) const {
  std::vector<belief::StateMatrix> matrices(faults_.size(), belief::kIdentity);
  for (const belief::Transition& one : transitions) {
    const auto found = std::lower_bound(faults_.begin(), faults_.end(), FaultId{one.fault});
    if (found == faults_.end() || found->value != one.fault) continue;
    matrices[static_cast<std::size_t>(found - faults_.begin())] = one.matrix;
  }
  return matrices;
}

double likelihood(const belief::Network& network, const belief::Hearing& hearing,
                  const std::vector<FaultId>& showing) {
  const std::vector<double> worst =
      worst_heard(network, hearing.sense, hearing.path, hearing.leak_at_most, showing);
  double chance = 0;
  for (std::size_t severity = 0; severity < worst.size(); ++severity) {
    chance += worst[severity] * hearing.chance_of_report[severity];
  }
  return chance;
}

double Kept::likelihood(const belief::Hearing& hearing, std::size_t set) const {
  return flat::likelihood(setting_.network(), hearing, showing_in(faults_, sets_[set]));
}

Numbers Kept::numbers(const belief::Question& question, std::size_t to) const {
  Numbers numbers{to, matrices(question.transitions), question.sense, {}};
  for (std::size_t set = 0; set < sets_.size(); ++set) {
    const std::vector<double> worst =
        worst_heard(setting_.network(), question.sense, question.path, question.leak_at_most,
                    showing_in(faults_, sets_[set]));
    std::vector<double> report(question.report.front().size(), 0.0);
    for (std::size_t severity = 0; severity < worst.size(); ++severity) {
      for (std::size_t outcome = 0; outcome < report.size(); ++outcome) {
        report[outcome] += worst[severity] * question.report[severity][outcome];
      }
    }
    numbers.report.push_back(std::move(report));
  }
  return numbers;
}

void take_out_needless(Grounds& grounds, std::vector<std::vector<Numbers>>& numbers) {
  for (std::size_t standing = 0; standing < grounds.standings.size(); ++standing) {
    std::vector<std::size_t> here;
    for (std::size_t ground = 0; ground < grounds.grounds.size(); ++ground) {
      if (grounds.grounds[ground].standing == standing) here.push_back(ground);
    }
    std::vector<KeptMove>& moves = grounds.moves[standing];
    std::vector<bool> needed(moves.size(), true);
    for (std::size_t move = 0; move < moves.size(); ++move) {
      for (std::size_t other = 0; other < moves.size() && needed[move]; ++other) {
        if (other == move || !needed[other]) continue;
        const bool no_longer = moves[other].move.minutes <= moves[move].move.minutes;
        if (no_longer && does_as_much(here, move, other, numbers)) needed[move] = false;
      }
    }
    keep_only(moves, needed);
    for (const std::size_t ground : here) {
      keep_only(numbers[ground], needed);
      keep_only(grounds.after[ground], needed);
    }
  }
}

}  // namespace whichlink::flat
