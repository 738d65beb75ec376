#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "load/placed_tree.h"

/// A file's tree as JSON, and back: the program writes it into the pocket page, the engine inside
/// the page reads it. Mappings become objects in the same order, lists arrays, no value null, and
/// every scalar a text. What is lost are the places and whether a scalar had quotes: a file is
/// checked before it goes into a page, so nobody asks for them there.
namespace whichlink::cli {

using Json = nlohmann::ordered_json;

[[nodiscard]] Json json_of(const load::Node& node);
/// Numbers and truth values are scalars too; nothing for what is nested too deep.
[[nodiscard]] std::optional<load::Node> node_of(const Json& json);

}  // namespace whichlink::cli
