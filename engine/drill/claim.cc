#include "drill/claim.h"

#include <algorithm>
#include <map>
#include <set>

namespace whichlink::drill {
namespace {

const std::string kCrossed = "crossed plugs";

/// Names and what they mean, in the order: parts, elements, kinds, faults.
class Names {
 public:
  explicit Names(const guide::Case& one)
      : setting_(one.setting()), size_(setting_.faults().size()) {
    std::vector<bool> here(size_, false);
    for (const Group& group : groups_of(one)) {
      for (std::size_t fault = 0; fault < size_; ++fault) {
        here[fault] = here[fault] || group.mask[fault];
      }
      if (group.plugs) names_.push_back({kCrossed, std::vector<bool>(size_, false), true});
    }
    const chain::Chain& chain = setting_.chain();
    gather(here, [&](const moves::Fault& fault) {
      return fault.element ? chain.parts[chain.elements[*fault.element].part].name : "";
    });
    gather(here, [&](const moves::Fault& fault) {
      return fault.element ? chain.elements[*fault.element].name : "";
    });
    for (const FaultId fault : setting_.faults().ids()) {
      if (!here[fault.value]) continue;
      add(setting_.family_of(fault), fault);
    }
    for (const FaultId fault : setting_.faults().ids()) {
      if (here[fault.value]) add(setting_.name_of(fault), fault);
    }
  }

  [[nodiscard]] const std::vector<Suspected>& all() const { return names_; }

 private:
  template <class NameOf>
  void gather(const std::vector<bool>& here, NameOf name_of) {
    for (const FaultId fault : setting_.faults().ids()) {
      if (!here[fault.value]) continue;
      const std::string name = name_of(setting_.faults()[fault]);
      if (!name.empty()) add(name, fault);
    }
  }

  void add(const std::string& name, FaultId fault) {
    auto found = std::find_if(names_.begin(), names_.end(),
                              [&](const Suspected& known) { return known.name == name; });
    if (found == names_.end()) {
      names_.push_back({name, std::vector<bool>(size_, false), false});
      found = std::prev(names_.end());
    }
    found->mask[fault.value] = true;
  }

  const moves::Setting& setting_;
  std::size_t size_;
  std::vector<Suspected> names_;
};

double at_start(const guide::Case& one, const Suspected& what) {
  if (!what.plugs) return any_at_start(one, what.mask);
  const std::vector<double> arranged = one.belief().arranged_at_start();
  double crossed = 0;
  for (std::size_t index = 1; index < arranged.size(); ++index) crossed += arranged[index];
  return crossed;
}

}  // namespace

std::vector<std::string> suspect_names(const guide::Case& one) {
  const Names known_here(one);
  std::vector<std::string> names;
  for (const Suspected& known : known_here.all()) names.push_back(known.name);
  return names;
}

Result<Suspected> suspected(const guide::Case& one, const std::string& name, const Place& place) {
  const Names names(one);
  std::vector<std::string> known;
  for (const Suspected& candidate : names.all()) {
    if (candidate.name == name) return candidate;
    known.push_back(candidate.name);
  }
  return tl::unexpected(Problems{{place, "nothing on this route is called \"" + name + "\"",
                                  one_of(known), nearest(name, known)}});
}

Claim weighed(const guide::Case& one, const Suspected& what, double sure) {
  Claim claim;
  claim.name = what.name;
  claim.sure = sure;
  claim.step = one.steps().size();
  claim.believed = at_start(one, what);
  for (const Group& group : groups_of(one)) {
    if (group.plugs && what.plugs) continue;
    Suspected other{group.words, group.mask, group.plugs};
    for (std::size_t fault = 0; fault < other.mask.size(); ++fault) {
      if (what.mask[fault]) other.mask[fault] = false;
    }
    const double chance = at_start(one, other);
    if (chance <= claim.rival_chance) continue;
    claim.rival = group.words;
    claim.rival_chance = chance;
  }
  const bool held = sure >= .5;
  claim.supported = claim.believed >= sure - kOverstated &&
                    !(held && claim.rival_chance >= kRival && claim.rival_chance > 1 - sure);
  return claim;
}

Calibration calibration_of(const std::vector<Said>& said) {
  Calibration sum;
  sum.claims = said.size();
  for (std::size_t index = 0; index < kBins; ++index) {
    const double width = 1.0 / static_cast<double>(kBins);
    sum.bins.push_back(
        {width * static_cast<double>(index), width * static_cast<double>(index + 1), 0, 0, 0});
  }
  if (said.empty()) return sum;
  const auto count = static_cast<double>(said.size());
  std::map<double, std::pair<double, double>> by_value;  // claims, true ones
  double right = 0;
  for (const Said& one : said) {
    const double outcome = one.is_true ? 1 : 0;
    sum.brier += (one.sure - outcome) * (one.sure - outcome) / count;
    right += outcome;
    auto& [claims, hits] = by_value[one.sure];
    claims += 1;
    hits += outcome;
    const auto bin =
        std::min(kBins - 1, static_cast<std::size_t>(one.sure * static_cast<double>(kBins)));
    ++sum.bins[bin].claims;
    sum.bins[bin].right += one.is_true ? 1 : 0;
    sum.bins[bin].said += one.sure;
  }
  for (Calibration::Bin& bin : sum.bins) {
    if (bin.claims > 0) bin.said /= static_cast<double>(bin.claims);
  }
  const double share = right / count;
  sum.uncertainty = share * (1 - share);
  for (const auto& [value, counted] : by_value) {
    const auto& [claims, hits] = counted;
    const double rate = hits / claims;
    sum.reliability += claims / count * (value - rate) * (value - rate);
    sum.resolution += claims / count * (rate - share) * (rate - share);
  }
  return sum;
}

}  // namespace whichlink::drill
