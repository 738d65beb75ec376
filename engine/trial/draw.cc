#include "trial/draw.h"

#include <algorithm>

namespace whichlink::trial {
namespace {

double column(const faults::Rate& rate, Rates rates) {
  switch (rates) {
    case Rates::low:
      return rate.low_per_year;
    case Rates::high:
      return rate.high_per_year;
    case Rates::mid:
      break;
  }
  return rate.mid_per_year;
}

}  // namespace

const std::vector<std::string>& rates_names() {
  static const std::vector<std::string> names{"low", "mid", "high"};
  return names;
}

Rates rates_of(const std::string& name) {
  const std::vector<std::string>& names = rates_names();
  return static_cast<Rates>(std::find(names.begin(), names.end(), name) - names.begin());
}

moves::Installation with_rates(moves::Installation installation, Rates rates) {
  faults::Rules& rules = installation.rules;
  for (const ModeId mode : rules.modes.ids()) {
    faults::Rate& rate = rules.modes[mode].rate;
    rate.mid_per_year = column(rate, rates);
  }
  rules.unlisted.rate.mid_per_year = column(rules.unlisted.rate, rates);
  if (rules.crossing) rules.crossing->rate.mid_per_year = column(rules.crossing->rate, rates);
  return installation;
}

CaseDrawer::CaseDrawer(const moves::Setting& setting, const Complaint& complaint)
    : setting_(setting), complaint_(complaint) {
  const SignalId signal = setting.chain().routes[complaint.route].signal;
  settling_ = moves::settling(setting, setting.rules().signals[signal].sense);
  for (moves::Arrangement& one : moves::arrangements_of(setting, complaint.route)) {
    Way way;
    way.question = moves::complaint_of(setting, complaint.route, one.patching, complaint.listener);
    way.arrangement = std::move(one);
    for (const FaultId fault : setting.faults().ids()) {
      const auto& path = way.question.path;
      if (!std::binary_search(path.begin(), path.end(), fault.value)) {
        way.others.push_back(fault.value);
      }
    }
    ways_.push_back(std::move(way));
  }
}

bool CaseDrawer::draw_states(const std::vector<std::uint32_t>& faults, Random& random,
                             simulate::Truth& truth) const {
  bool sound = true;
  for (const std::uint32_t fault : faults) {
    const belief::StateVector& prior = setting_.network().prior[fault];
    const double at = random.uniform();
    if (at < prior[belief::kAbsent]) continue;
    const bool quiet = at < prior[belief::kAbsent] + prior[belief::kQuiet];
    truth.states[fault] = quiet ? belief::kQuiet : belief::kShowing;
    sound = false;
  }
  return sound;
}

bool CaseDrawer::is_wanted(std::size_t heard) const {
  return complaint_.heard ? heard == *complaint_.heard : heard != 0;
}

std::optional<std::size_t> CaseDrawer::heard_when_sound(const belief::Question& question,
                                                        double uniform) const {
  const std::vector<double>& chances = question.report.front();
  for (std::size_t outcome = 0; outcome < chances.size(); ++outcome) {
    if (!is_wanted(outcome)) continue;
    uniform -= chances[outcome];
    if (uniform < 0) return outcome;
  }
  return std::nullopt;
}

std::optional<Drawn> CaseDrawer::draw(std::uint64_t seed) const {
  Random random(seed);
  simulate::Truth truth = simulate::nothing_wrong(setting_);
  for (std::size_t draws = 0; draws < kMostDraws; ++draws) {
    double at = random.uniform();
    const Way* way = &ways_.front();
    for (const Way& one : ways_) {
      at -= one.arrangement.prior;
      way = &one;
      if (at < 0) break;
    }
    truth.real = way->arrangement.patching;
    const bool sound = draw_states(way->question.path, random, truth);
    // Most rooms are sound, and what is heard then is only a slip of the ear: that is drawn at
    // once.
    const std::optional<std::size_t> slip =
        sound ? heard_when_sound(way->question, random.uniform()) : std::nullopt;
    if (sound && !slip) continue;
    (void)draw_states(way->others, random, truth);
    const auto seed_of_room = static_cast<std::uint64_t>(random.uniform() * 0x1.0p53);
    simulate::Room room(setting_, truth, complaint_.listener, seed_of_room);
    if (slip) room.settle(settling_);
    const std::size_t heard = slip ? *slip : room.complain(way->question, settling_);
    if (is_wanted(heard)) return Drawn{std::move(truth), heard, std::move(room)};
    std::fill(truth.states.begin(), truth.states.end(), belief::kAbsent);
  }
  return std::nullopt;
}

}  // namespace whichlink::trial
