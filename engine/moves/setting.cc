#include "moves/setting.h"

#include <algorithm>
#include <cmath>

#include "base/moment.h"
#include "moves/standing.h"

namespace whichlink::moves {
namespace {

std::vector<bool> ends_of(const Installation& installation) {
  const chain::Chain& chain = installation.chain;
  std::vector<bool> is_end(chain.conductors.size(), false);
  for (const ConductorId conductor : chain.conductors.ids()) {
    const ClassId element_class = chain.elements[chain.conductors[conductor].element].element_class;
    is_end[conductor.value] = installation.rules.classes[element_class].role == faults::Role::end;
  }
  return is_end;
}

std::vector<double> running_sum(const std::vector<double>& chances) {
  std::vector<double> at_most;
  at_most.reserve(chances.size());
  double sum = 0;
  for (const double chance : chances) {
    sum += chance;
    at_most.push_back(std::min(sum, 1.0));
  }
  if (!at_most.empty()) at_most.back() = 1;
  return at_most;
}

}  // namespace

double chance_within(double rate_per_year, double days) {
  return -std::expm1(-rate_per_year * days / kDaysPerYear);
}

Setting::Setting(const Installation& installation, double days_since_pass)
    : installation_(installation),
      days_since_pass_(days_since_pass),
      tracer_(installation.chain, ends_of(installation)) {
  const chain::Chain& chain = installation_.chain;
  at_conductor_.resize(chain.conductors.size());
  of_element_.resize(chain.elements.size());
  bonded_.resize(chain.elements.size());
  for (const chain::Bond& bond : chain.bonds) {
    const ElementId a = chain.conductors[bond.a].element;
    const ElementId b = chain.conductors[bond.b].element;
    bonded_[a].push_back(b);
    bonded_[b].push_back(a);
  }
  network_.at_most.resize(installation_.rules.senses.size());
  list_faults();
}

double Setting::spare_chance(const chain::Part& part, ModeId mode) const {
  double chance_bad = 0;
  for (const faults::SpareState& state : rules().spare_states) {
    if (state.name == part.spare_state) chance_bad = state.chance_bad;
  }
  double total_rate = 0;
  for (const ElementId element : part.elements) {
    const chain::Element& piece = chain().elements[element];
    for (const ModeId other : rules().classes[piece.element_class].modes) {
      const faults::Mode& one = rules().modes[other];
      const double count =
          one.reach == faults::Reach::lane ? static_cast<double>(piece.conductors.size()) : 1.0;
      total_rate += count * one.rate.mid_per_year;
    }
  }
  return total_rate > 0 ? chance_bad * rules().modes[mode].rate.mid_per_year / total_rate : 0;
}

void Setting::add_fault(const Fault& fault, double chance_present, double chance_shows) {
  const FaultId id = faults_.add(fault);
  network_.prior.push_back(
      {1 - chance_present, chance_present * (1 - chance_shows), chance_present * chance_shows});
  if (fault.route) {
    unlisted_[*fault.route] = id;
    return;
  }
  of_element_[*fault.element].push_back(id);
  for (const ConductorId conductor : chain().elements[*fault.element].conductors) {
    if (!fault.lane || *fault.lane == conductor) at_conductor_[conductor].push_back(id);
  }
}

void Setting::list_faults() {
  const faults::Rules& rules = installation_.rules;
  for (const ElementId element : chain().elements.ids()) {
    const chain::Element& piece = chain().elements[element];
    const chain::Part& part = chain().parts[piece.part];
    for (const ModeId mode : rules.classes[piece.element_class].modes) {
      const faults::Mode& one = rules.modes[mode];
      const double present = part.spare ? spare_chance(part, mode)
                                        : chance_within(one.rate.mid_per_year, days_since_pass_);
      if (one.reach == faults::Reach::whole) {
        add_fault({mode, element, std::nullopt, std::nullopt}, present, one.chance_shows);
        continue;
      }
      for (const ConductorId lane : piece.conductors) {
        add_fault({mode, element, lane, std::nullopt}, present, one.chance_shows);
      }
    }
  }
  unlisted_.resize(chain().routes.size());
  for (const RouteId route : chain().routes.ids()) {
    add_fault({std::nullopt, std::nullopt, std::nullopt, route},
              chance_within(rules.unlisted.rate.mid_per_year, days_since_pass_),
              rules.unlisted.chance_shows);
  }
  for (const SenseId sense : rules.senses.ids()) {
    auto& rows = network_.at_most[sense.value];
    for (const FaultId fault : faults_.ids()) {
      const std::optional<ModeId> mode = faults_[fault].mode;
      rows.push_back(running_sum(mode ? rules.modes[*mode].symptom_chance[sense]
                                      : rules.unlisted.symptom_chance[sense]));
    }
  }
}

std::vector<FaultId> Setting::faults_on(const chain::Path& path, RouteId route) const {
  std::vector<FaultId> found;
  for (const ConductorId conductor : path.conductors) {
    const auto& here = faults_at(conductor);
    found.insert(found.end(), here.begin(), here.end());
  }
  found.push_back(unlisted_of(route));
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

std::vector<RouteId> Setting::routes_with(FaultId fault) const {
  std::vector<RouteId> routes;
  for (const RouteId route : chain().routes.ids()) {
    const std::vector<FaultId> on_it = faults_on(tracer_.trace(route, chain().home).path, route);
    if (std::binary_search(on_it.begin(), on_it.end(), fault)) routes.push_back(route);
  }
  return routes;
}

double Setting::rate_per_year(FaultId fault) const {
  const std::optional<ModeId> mode = faults_[fault].mode;
  return mode ? rules().modes[*mode].rate.mid_per_year : rules().unlisted.rate.mid_per_year;
}

std::string Setting::words_of(FaultId fault) const {
  const Fault& one = faults_[fault];
  if (!one.mode) return "a cause that is not listed, on " + chain().routes[*one.route].name;
  std::string it = chain().elements[*one.element].name;
  if (one.lane && chain().elements[*one.element].conductors.size() > 1) {
    it += " (" + chain().conductors[*one.lane].lane + ")";
  }
  return with_it(rules().modes[*one.mode].words, it);
}

std::string Setting::name_of(FaultId fault) const {
  const Fault& one = faults_[fault];
  if (!one.mode) return chain().routes[*one.route].name + ": not listed";
  const std::string where =
      one.lane ? chain::name_of(chain(), *one.lane) : chain().elements[*one.element].name;
  return where + ": " + rules().modes[*one.mode].name;
}

std::string Setting::family_of(FaultId fault) const {
  const std::optional<ModeId> mode = faults_[fault].mode;
  return mode ? rules().modes[*mode].family : "unlisted";
}

}  // namespace whichlink::moves
