#include "plan/aim.h"

#include <algorithm>

namespace whichlink::plan {

const std::vector<std::string>& aim_names() {
  static const std::vector<std::string> kNames = {"time", "split", "moves"};  // in the enum's order
  return kNames;
}

std::string name_of(Aim aim) {
  return aim_names()[static_cast<std::size_t>(aim)];
}

std::optional<Aim> aim_of(const std::string& name) {
  const auto found = std::find(aim_names().begin(), aim_names().end(), name);
  if (found == aim_names().end()) return std::nullopt;
  return static_cast<Aim>(found - aim_names().begin());
}

}  // namespace whichlink::plan
