#include "stock/needs.h"

#include <algorithm>

#include "stock/losses.h"

namespace whichlink::stock {
namespace {

// Sessions a year in one such room that use one of these signals, each wanted independently.
double sessions_with(const moves::Setting& setting, const std::vector<SignalId>& only_with) {
  const faults::Use& use = *setting.installation().use;
  const double all = use.sessions_per_day * use.days_per_year;
  if (only_with.empty()) return all;
  double without = 1;
  for (const SignalId signal : signals_of(setting.chain())) {
    if (std::find(only_with.begin(), only_with.end(), signal) == only_with.end()) continue;
    without *= 1 - use.share_of_sessions[signal];
  }
  return all * (1 - without);
}

void add_use_by_sessions(const std::vector<Room>& rooms, std::map<std::string, Need>& needs) {
  if (rooms.empty()) return;
  for (const faults::Supply& supply : rooms.front().setting->rules().stores->supplies) {
    if (supply.a_session.mid_per_year <= 0) continue;
    double sessions = 0;
    for (const Room& room : rooms) {
      if (!room.setting->installation().use) continue;
      sessions += sessions_with(*room.setting, supply.only_with) * static_cast<double>(room.rooms);
    }
    if (sessions <= 0) continue;
    needs[supply.name].streams.push_back({history::gamma_of(supply.a_session), sessions});
  }
}

}  // namespace

Rates pooled_rates(const std::vector<std::vector<history::LearnedRate>>& learned) {
  Rates rates;
  for (const std::vector<history::LearnedRate>& one : learned) {
    for (const history::LearnedRate& rate : one) {
      const auto place = rates.try_emplace(rate.name, rate.before).first;
      place->second = place->second.updated(rate.faults, rate.item_years);
    }
  }
  return rates;
}

std::map<std::string, Need> needs_of(const std::vector<Room>& rooms, const Rates& rates) {
  std::map<std::string, Need> needs;
  // By name and kind of fault: how many a year for each unit of its rate.
  std::map<std::string, std::map<std::string, double>> takes;
  for (const Room& room : rooms) {
    for (const FaultGroup& group : room.endings->groups) {
      const auto rate = rates.find(group.mode);
      if (rate == rates.end()) continue;
      const auto items = static_cast<double>(group.items * room.rooms);
      for (const auto& [name, count] : group.taken) takes[name][group.mode] += items * count;
      for (const auto& [name, count] : group.needless) {
        needs[name].needless_per_year += items * count * rate->second.mean();
      }
    }
  }
  for (const auto& [name, by_mode] : takes) {
    for (const auto& [mode, count] : by_mode) {
      needs[name].streams.push_back({rates.at(mode), count});
    }
  }
  add_use_by_sessions(rooms, needs);
  for (auto& [name, need] : needs) {
    for (const upkeep::Stream& stream : need.streams) {
      need.per_year += stream.takes * stream.rate.mean();
    }
  }
  return needs;
}

}  // namespace whichlink::stock
