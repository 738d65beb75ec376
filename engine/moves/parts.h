#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "moves/installation.h"

namespace whichlink::moves {

/// The lanes of two elements that a joint without lanes connects: by name, or the only one of each.
/// @return pairs of lane indices; nothing where the lanes do not match
[[nodiscard]] std::optional<std::vector<std::pair<std::size_t, std::size_t>>> matching_lanes(
    const std::vector<std::string>& a, const std::vector<std::string>& b);

/// Adds a part with its elements, lanes and moulded joints, plugged nowhere. The part's kind must
/// be set, its name be its own.
/// @param piece_places  of pieces that are elsewhere than the part
/// @return its id; its bonds are the last of the chain's
PartId add_part(chain::Chain& chain, const faults::Rules& rules, chain::Part part,
                const std::map<std::string, PlaceId>& piece_places = {});

/// The kinds of part in the chain that staff may exchange, ascending, each once; spares that no
/// part of the chain is like are left out.
[[nodiscard]] std::vector<PartKindId> exchangeable_kinds(const Installation& installation);

/// The installation as it would be with a spare of each of those kinds to hand, in the first state
/// of the rules, at the start; kinds with such a spare get no other.
[[nodiscard]] Installation with_full_drawer(Installation installation);

}  // namespace whichlink::moves
