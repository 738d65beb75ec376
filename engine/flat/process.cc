#include "flat/process.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "flat/numbers.h"
#include "moves/standing.h"

namespace whichlink::flat {

namespace {

std::vector<std::vector<search::Arc>> arcs_of(const std::vector<Row>& next,
                                              const std::vector<Row>& reports,
                                              const std::vector<std::uint32_t>& states,
                                              const std::vector<std::uint32_t>& place) {
  std::vector<std::vector<search::Arc>> arcs;
  for (const std::uint32_t state : states) {
    arcs.emplace_back();
    for (const Entry& to : next[state]) {
      for (const Entry& report : reports[to.index]) {
        arcs.back().push_back({report.index, place[to.index], to.chance * report.chance});
      }
    }
  }
  return arcs;
}

}  // namespace

search::Process Process::numbers() const {
  std::vector<std::vector<std::uint32_t>> of_site(grounds.standings.size());
  std::vector<std::uint32_t> place;  // by state: which of its site's
  for (std::uint32_t state = 0; state < states.size(); ++state) {
    auto& here = of_site[grounds.grounds[states[state].ground].standing];
    place.push_back(static_cast<std::uint32_t>(here.size()));
    here.push_back(state);
  }
  search::Process process;
  for (std::size_t site = 0; site < of_site.size(); ++site) {
    search::Site here{of_site[site].size(), {}};
    const auto add = [&](std::size_t action, std::size_t to, bool ends) {
      search::Choice choice{to, ends ? 0 : observations.size(), {}, {}};
      for (const std::uint32_t state : of_site[site]) {
        choice.minutes.push_back(minutes[action][state]);
      }
      choice.arcs = ends ? std::vector<std::vector<search::Arc>>(here.states)
                         : arcs_of(next[action], reports[action], of_site[site], place);
      here.choices.push_back(std::move(choice));
    };
    for (const KeptMove& kept : grounds.moves[site]) {
      const auto found = std::find(moves.begin(), moves.end(), kept.move.name);
      add(static_cast<std::size_t>(found - moves.begin()), kept.to, false);
    }
    add(close(), site, true);
    add(service(), site, true);
    process.sites.push_back(std::move(here));
  }
  for (const std::uint32_t state : of_site[0]) process.start.push_back(start[state]);
  return process;
}

namespace {

using moves::Standing;

// The faults that would explain the complaint best if each were the only one.
std::vector<FaultId> likeliest(const moves::Setting& setting, RouteId route,
                               const belief::Hearing& complaint, std::size_t most) {
  std::vector<std::pair<double, FaultId>> weighed;
  const chain::Path path = setting.tracer().trace(route, setting.chain().home).path;
  for (const FaultId fault : setting.faults_on(path, route)) {
    const belief::StateVector& prior = setting.network().prior[fault.value];
    const double weight =
        prior[belief::kQuiet] * likelihood(setting.network(), complaint, {}) +
        prior[belief::kShowing] * likelihood(setting.network(), complaint, {fault});
    const double absent = prior[belief::kAbsent];
    weighed.emplace_back(absent > 0 ? -weight / absent : -HUGE_VAL, fault);
  }
  std::stable_sort(weighed.begin(), weighed.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  if (weighed.size() > most) weighed.resize(most);
  std::vector<FaultId> kept;
  kept.reserve(weighed.size());
  for (const auto& [weight, fault] : weighed) kept.push_back(fault);
  std::sort(kept.begin(), kept.end());
  return kept;
}

class Builder {
 public:
  Builder(const moves::Setting& setting, std::size_t listener, const FaultSets& sets,
          Process& process)
      : setting_(setting),
        listener_(listener),
        sets_(sets),
        process_(process),
        kept_(setting, process.faults, sets) {}

  void build() {
    reckon();
    take_out_needless(process_.grounds, numbers_);
    list_states();
    list_actions();
    list_observations();
    make_room();
    for (std::size_t ground = 0; ground < process_.grounds.grounds.size(); ++ground) {
      ways_out(ground);
      const std::size_t standing = process_.grounds.grounds[ground].standing;
      for (std::size_t place = 0; place < process_.grounds.moves[standing].size(); ++place) {
        make_move(ground, place);
      }
    }
  }

  void begin(const Beginning& beginning) {
    for (std::size_t ground = 0; ground < beginning.real.size(); ++ground) {
      for (std::size_t set = 0; set < sets_.size(); ++set) {
        process_.start[state(ground, set)] += beginning.weights[ground][set];
      }
    }
  }

 private:
  [[nodiscard]] std::size_t state(std::size_t ground, std::size_t set) const {
    return ground * sets_.size() + set;
  }

  void reckon() {
    const Grounds& grounds = process_.grounds;
    for (std::size_t ground = 0; ground < grounds.grounds.size(); ++ground) {
      const Ground& here = grounds.grounds[ground];
      numbers_.emplace_back();
      for (std::size_t place = 0; place < grounds.moves[here.standing].size(); ++place) {
        const belief::Question question =
            moves::question_of(setting_, grounds.standings[here.standing],
                               grounds.moves[here.standing][place].move, here.real, listener_);
        numbers_.back().push_back(kept_.numbers(question, grounds.after[ground][place]));
      }
    }
  }

  void list_states() {
    for (std::size_t ground = 0; ground < process_.grounds.grounds.size(); ++ground) {
      for (std::size_t set = 0; set < sets_.size(); ++set) {
        process_.states.push_back({ground, sets_[set]});
      }
    }
  }

  void list_actions() {
    for (const auto& here : process_.grounds.moves) {
      for (const KeptMove& kept : here) {
        if (action_.emplace(kept.move.name, process_.moves.size()).second) {
          process_.moves.push_back(kept.move.name);
        }
      }
    }
  }

  void list_observations() {
    std::vector<bool> used(setting_.rules().senses.size(), false);
    for (const auto& here : process_.grounds.moves) {
      for (const KeptMove& kept : here) used[kept.move.sense.value] = true;
    }
    for (const SenseId sense : setting_.rules().senses.ids()) {
      first_.push_back(process_.observations.size());
      if (!used[sense.value]) continue;
      const std::size_t outcomes = moves::weights_of_nothing(setting_.rules().senses[sense]).size();
      for (std::size_t outcome = 0; outcome < outcomes; ++outcome) {
        process_.observations.push_back({sense, outcome});
      }
    }
  }

  // Until something better is known, every action ends the case and reports nothing.
  void make_room() {
    const std::size_t actions = process_.moves.size() + 2;
    const std::size_t states = process_.states.size() + 1;
    const Row ends = {{static_cast<std::uint32_t>(process_.end()), 1}};
    const Row nothing = {{static_cast<std::uint32_t>(process_.nothing()), 1}};
    process_.start.assign(states, 0.0);
    process_.next.assign(actions, std::vector<Row>(states, ends));
    process_.reports.assign(actions, std::vector<Row>(states, nothing));
    process_.minutes.assign(actions, std::vector<double>(states, 0.0));
  }

  // Minutes to put everything back, and the price of the new parts that stay in.
  [[nodiscard]] double leaving_minutes(const Standing& standing) const {
    double minutes = moves::put_back_minutes(setting_, standing);
    for (const moves::Substitute& swap : standing.substituted) {
      const PartKindId kind = setting_.chain().parts[swap.out].kind;
      minutes += setting_.rules().part_kinds[kind].price_minutes;
    }
    return minutes;
  }

  // By kept fault: it is on the route's way once everything is put back.
  [[nodiscard]] std::vector<bool> matter(const Standing& standing) const {
    const chain::Patching settled =
        standing.temporary
            ? moves::with_changes(setting_.chain(), standing.patching, standing.temporary->back)
            : standing.patching;
    const chain::Path path = setting_.tracer().trace(standing.route, settled).path;
    const std::vector<FaultId> there = setting_.faults_on(path, standing.route);
    std::vector<bool> mask;
    for (const FaultId fault : process_.faults) {
      mask.push_back(std::binary_search(there.begin(), there.end(), fault));
    }
    return mask;
  }

  // What ends the case, and what would be no move here: dearer than service, so never chosen.
  void ways_out(std::size_t ground) {
    const Ground& here = process_.grounds.grounds[ground];
    const Standing& standing = process_.grounds.standings[here.standing];
    const faults::Prices& prices = setting_.installation().prices;
    const double leaving = leaving_minutes(standing);
    const bool crossed = !(here.real.plug_in == standing.patching.plug_in);
    const std::vector<bool> matters = matter(standing);
    for (std::size_t set = 0; set < sets_.size(); ++set) {
      bool wrong = crossed;
      for (std::size_t fault = 0; fault < matters.size(); ++fault) {
        wrong = wrong || (matters[fault] && sets_[set][fault] != belief::kAbsent);
      }
      const std::size_t at = state(ground, set);
      for (auto& minutes : process_.minutes) {
        minutes[at] = leaving + prices.service_minutes + prices.miss_minutes;
      }
      process_.minutes[process_.close()][at] = leaving + (wrong ? prices.miss_minutes : 0);
      process_.minutes[process_.service()][at] = leaving + prices.service_minutes;
    }
  }

  void make_move(std::size_t ground, std::size_t place) {
    const Ground& here = process_.grounds.grounds[ground];
    const KeptMove& kept = process_.grounds.moves[here.standing][place];
    const std::size_t action = action_.at(kept.move.name);
    const Numbers& numbers = numbers_[ground][place];
    for (std::size_t set = 0; set < sets_.size(); ++set) {
      Row next = sets_.moved(set, numbers.matrices);
      for (Entry& entry : next) {
        entry.index = static_cast<std::uint32_t>(state(numbers.to, entry.index));
      }
      process_.next[action][state(ground, set)] = std::move(next);
      process_.minutes[action][state(ground, set)] = kept.move.minutes;
      process_.reports[action][state(numbers.to, set)] =
          as_row(numbers.report[set], first_[numbers.sense]);
    }
  }

  static Row as_row(const std::vector<double>& chances, std::size_t first) {
    Row row;
    for (std::size_t outcome = 0; outcome < chances.size(); ++outcome) {
      if (chances[outcome] <= 0) continue;
      row.push_back({static_cast<std::uint32_t>(first + outcome), chances[outcome]});
    }
    return row;
  }

  const moves::Setting& setting_;
  std::size_t listener_;
  const FaultSets& sets_;
  Process& process_;
  Kept kept_;
  std::vector<std::vector<Numbers>> numbers_;  // [ground][place in its standing's moves]
  std::map<std::string, std::size_t> action_;
  std::vector<std::size_t> first_;  // by sense: its first observation
};

Result<Process> refused(const std::string& what, const std::string& expected) {
  return tl::unexpected(Problems{{{}, what, expected, ""}});
}

// The complaint is taken in, and the room settles, as in every case.
std::vector<double> weights_after(const moves::Setting& setting, RouteId route, const Kept& kept,
                                  const std::vector<FaultId>& faults, const FaultSets& sets,
                                  const belief::Hearing& complaint) {
  const SignalId signal = setting.chain().routes[route].signal;
  const std::vector<belief::StateMatrix> settling =
      kept.matrices(moves::settling(setting, setting.rules().signals[signal].sense).transitions);
  std::vector<belief::StateVector> priors;
  priors.reserve(faults.size());
  for (const FaultId fault : faults) priors.push_back(setting.network().prior[fault.value]);
  std::vector<double> weights(sets.size(), 0.0);
  for (const Entry& entry : sets.drawn(priors)) {
    const double weight = entry.chance * kept.likelihood(complaint, entry.index);
    for (const Entry& then : sets.moved(entry.index, settling)) {
      weights[then.index] += weight * then.chance;
    }
  }
  return weights;
}

bool too_many_sets(std::size_t faults, const Limits& limits) {
  return !(FaultSets::count(faults, limits.together) <= static_cast<double>(kMostStates));
}

Result<Process> too_many_states() {
  return refused("more than " + std::to_string(kMostStates) + " states",
                 "fewer faults, faults together or standings");
}

}  // namespace

Result<Process> process_from(const moves::Setting& setting, const Beginning& beginning,
                             const Limits& limits) {
  if (too_many_sets(beginning.faults.size(), limits)) return too_many_states();
  const FaultSets sets(beginning.faults.size(), limits.together);
  const std::size_t most_grounds = kMostStates / sets.size();
  Process process;
  process.faults = beginning.faults;
  process.grounds = grounds_from(setting, beginning.standing, beginning.real, beginning.cannot,
                                 limits.standings, most_grounds);
  if (process.grounds.grounds.size() > most_grounds) return too_many_states();
  Builder builder(setting, beginning.listener, sets, process);
  builder.build();
  builder.begin(beginning);
  double total = 0;
  for (const double weight : process.start) total += weight;
  if (!(total > 0)) {
    return refused("none of the faults that are kept explains what is heard", "more faults");
  }
  for (double& weight : process.start) weight /= total;
  return process;
}

Result<Process> process_of(const moves::Setting& setting, RouteId route, std::size_t listener,
                           const moves::ReportWeights& complaint, const Limits& limits) {
  const auto heard = [&](const chain::Patching& real) {
    return moves::answered(moves::complaint_of(setting, route, real, listener), complaint).hearing;
  };
  Beginning beginning{moves::stand_at_start(setting, route), listener, {}, {}, {}, {}};
  beginning.faults = likeliest(setting, route, heard(setting.chain().home), limits.faults);
  if (too_many_sets(beginning.faults.size(), limits)) return too_many_states();
  const FaultSets sets(beginning.faults.size(), limits.together);
  const Kept kept(setting, beginning.faults, sets);
  for (moves::Arrangement& one : moves::arrangements_of(setting, route)) {
    beginning.weights.push_back(
        weights_after(setting, route, kept, beginning.faults, sets, heard(one.patching)));
    for (double& weight : beginning.weights.back()) weight *= one.prior;
    beginning.real.push_back(std::move(one.patching));
  }
  return process_from(setting, beginning, limits);
}

}  // namespace whichlink::flat
