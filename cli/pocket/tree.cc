#include "pocket/tree.h"

#include "load/load.h"

namespace whichlink::cli {
namespace {

// A block text (| or >) keeps the line break of its last line only where it is known to be one.
std::string text_of(const load::Node& scalar) {
  std::string text = scalar.text;
  while (!scalar.plain && !text.empty() && text.back() == '\n') text.pop_back();
  return text;
}

// False where it goes deeper than a file may.
bool fill(const Json& json, int depth, load::Node& node) {
  if (json.is_structured() && depth > load::kDeepestNesting) return false;
  if (json.is_object()) {
    node.kind = load::Kind::mapping;
    for (const auto& [key, value] : json.items()) {
      node.entries.push_back({key, {}, {}});
      if (!fill(value, depth + 1, node.entries.back().value)) return false;
    }
  } else if (json.is_array()) {
    node.kind = load::Kind::sequence;
    for (const Json& item : json) {
      node.items.emplace_back();
      if (!fill(item, depth + 1, node.items.back())) return false;
    }
  } else if (!json.is_null()) {
    node.kind = load::Kind::scalar;
    node.plain = true;
    node.text = json.is_string() ? json.get<std::string>() : json.dump();
  }
  return true;
}

}  // namespace

Json json_of(const load::Node& node) {
  switch (node.kind) {
    case load::Kind::scalar:
      return text_of(node);
    case load::Kind::sequence: {
      Json list = Json::array();
      for (const load::Node& item : node.items) list.push_back(json_of(item));
      return list;
    }
    case load::Kind::mapping: {
      Json mapping = Json::object();
      for (const load::Entry& entry : node.entries) mapping[entry.key] = json_of(entry.value);
      return mapping;
    }
    case load::Kind::nothing:
    case load::Kind::refused:
      break;
  }
  return nullptr;
}

std::optional<load::Node> node_of(const Json& json) {
  load::Node node;
  if (!fill(json, 1, node)) return std::nullopt;
  return node;
}

}  // namespace whichlink::cli
