#include "pocket/rates.h"

#include <algorithm>
#include <vector>

namespace whichlink::cli {
namespace {

// One list of them, so that writing and reading go the same way.
template <class Rules>
auto rates_in(Rules& rules) {
  std::vector<decltype(&rules.unlisted.rate)> all;
  for (auto& mode : rules.modes) all.push_back(&mode.rate);
  all.push_back(&rules.unlisted.rate);
  if (rules.crossing) all.push_back(&rules.crossing->rate);
  return all;
}

bool is_rate(const Json& json) {
  return json.is_array() && json.size() == 3 &&
         std::all_of(json.begin(), json.end(), [](const Json& one) { return one.is_number(); });
}

}  // namespace

Json rates_of(const faults::Rules& rules) {
  Json json = Json::array();
  for (const faults::Rate* rate : rates_in(rules)) {
    json.push_back({rate->low_per_year, rate->mid_per_year, rate->high_per_year});
  }
  return json;
}

bool put_rates(const Json& rates, faults::Rules& rules) {
  const std::vector<faults::Rate*> all = rates_in(rules);
  if (!rates.is_array() || rates.size() != all.size()) return false;
  if (!std::all_of(rates.begin(), rates.end(), is_rate)) return false;
  for (std::size_t at = 0; at < all.size(); ++at) {
    all[at]->low_per_year = rates[at][0].get<double>();
    all[at]->mid_per_year = rates[at][1].get<double>();
    all[at]->high_per_year = rates[at][2].get<double>();
  }
  return true;
}

}  // namespace whichlink::cli
