#pragma once

#include <string>
#include <string_view>

#include "base/problem.h"

namespace whichlink::load {

/// The rules' name in an installation's text, and where it stands.
struct RulesName {
  std::string name;
  Place place;
};
[[nodiscard]] Result<RulesName> rules_named_in(std::string_view text, const std::string& file);

}  // namespace whichlink::load
