// In the pocket page these take the place of engine/load's own, which need libraries that are not
// there: a text is a tree as JSON, not YAML.

#include <cstdlib>

#include "load/decimal.h"
#include "load/placed_tree.h"
#include "pocket/tree.h"

namespace whichlink::load {

std::optional<Node> tree_from(std::string_view text, Complaints& complaints) {
  const auto json = cli::Json::parse(text, nullptr, false);
  if (!json.is_discarded()) {
    if (std::optional<Node> root = cli::node_of(json)) return root;
  }
  complaints.add({}, "this is no tree of a file", "JSON that whichlink wrote");
  return std::nullopt;
}

// The page never leaves the C locale, and only texts that the program has read before come here.
std::optional<double> decimal_from(const std::string& text) {
  char* end = nullptr;
  const double value = std::strtod(text.c_str(), &end);
  if (text.empty() || end != text.c_str() + text.size()) return std::nullopt;
  return value;
}

}  // namespace whichlink::load
