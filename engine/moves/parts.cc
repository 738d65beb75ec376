#include "moves/parts.h"

#include <algorithm>
#include <set>

namespace whichlink::moves {
namespace {

chain::End end_of(faults::Role role) {
  switch (role) {
    case faults::Role::plug:
      return chain::End::plug;
    case faults::Role::jack:
      return chain::End::jack;
    case faults::Role::link:
    case faults::Role::source:
    case faults::Role::end:
      break;
  }
  return chain::End::neither;
}

void add_element(chain::Chain& chain, const faults::Rules& rules, PartId part,
                 const faults::PartKind::Piece& piece, PlaceId place) {
  const faults::ElementClass& element_class = rules.classes[piece.element_class];
  chain::Element element;
  element.name = chain.parts[part].name;
  if (!piece.name.empty()) element.name += "." + piece.name;
  element.element_class = piece.element_class;
  element.part = part;
  element.place = place;
  element.end = end_of(element_class.role);
  element.connector = element_class.connector.value_or("");
  const ElementId id = chain.elements.add(std::move(element));
  chain.parts[part].elements.push_back(id);
  std::vector<std::string> lanes = piece.lanes;
  if (lanes.empty()) lanes.emplace_back();
  for (const std::string& lane : lanes) {
    chain.elements[id].conductors.push_back(chain.conductors.add({id, lane}));
  }
}

void add_moulded(chain::Chain& chain, const faults::Rules& rules, PartId part) {
  const chain::Part& built = chain.parts[part];
  const faults::PartKind& kind = rules.part_kinds[built.kind];
  for (const auto& joint : kind.moulded) {
    const auto& a = chain.elements[built.elements[joint.piece_a]].conductors;
    const auto& b = chain.elements[built.elements[joint.piece_b]].conductors;
    const auto lanes = [](const faults::PartKind::Piece& piece, std::optional<std::size_t> lane) {
      return lane ? std::vector<std::string>{piece.lanes[*lane]} : piece.lanes;
    };
    const auto pairs = matching_lanes(lanes(kind.pieces[joint.piece_a], joint.lane_a),
                                      lanes(kind.pieces[joint.piece_b], joint.lane_b));
    if (!pairs) continue;
    for (const auto& [lane_a, lane_b] : *pairs) {
      chain.bonds.push_back({a[joint.lane_a.value_or(lane_a)], b[joint.lane_b.value_or(lane_b)]});
    }
  }
}

bool has_name(const chain::Chain& chain, const std::string& name) {
  return std::any_of(chain.parts.begin(), chain.parts.end(),
                     [&](const chain::Part& part) { return part.name == name; });
}

}  // namespace

std::optional<std::vector<std::pair<std::size_t, std::size_t>>> matching_lanes(
    const std::vector<std::string>& a, const std::vector<std::string>& b) {
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  if (a.size() <= 1 && b.size() <= 1) {
    pairs.emplace_back(0, 0);
    return pairs;
  }
  if (a.size() != b.size()) return std::nullopt;
  for (std::size_t lane = 0; lane < a.size(); ++lane) {
    const auto found = std::find(b.begin(), b.end(), a[lane]);
    if (found == b.end()) return std::nullopt;
    pairs.emplace_back(lane, static_cast<std::size_t>(found - b.begin()));
  }
  return pairs;
}

PartId add_part(chain::Chain& chain, const faults::Rules& rules, chain::Part part,
                const std::map<std::string, PlaceId>& piece_places) {
  const PlaceId place = part.place;
  const PartKindId kind = part.kind;
  const PartId id = chain.parts.add(std::move(part));
  for (const auto& piece : rules.part_kinds[kind].pieces) {
    const auto own = piece_places.find(piece.name);
    add_element(chain, rules, id, piece, own == piece_places.end() ? place : own->second);
  }
  chain.home.plug_in.resize(chain.elements.size());
  add_moulded(chain, rules, id);
  return id;
}

std::vector<PartKindId> exchangeable_kinds(const Installation& installation) {
  std::set<PartKindId> kinds;
  for (const chain::Part& part : installation.chain.parts) {
    if (!part.spare && installation.rules.part_kinds[part.kind].exchangeable) {
      kinds.insert(part.kind);
    }
  }
  return {kinds.begin(), kinds.end()};
}

Installation with_full_drawer(Installation installation) {
  if (installation.rules.spare_states.empty()) return installation;
  const std::string& state = installation.rules.spare_states.front().name;
  for (const PartKindId kind : exchangeable_kinds(installation)) {
    chain::Chain& chain = installation.chain;
    const bool is_there =
        std::any_of(chain.parts.begin(), chain.parts.end(), [&](const chain::Part& part) {
          return part.spare && part.kind == kind && part.spare_state == state;
        });
    if (is_there) continue;
    chain::Part spare;
    spare.name = "new " + installation.rules.part_kinds[kind].name;
    while (has_name(chain, spare.name)) spare.name += " more";
    spare.kind = kind;
    spare.place = installation.start;
    spare.spare = true;
    spare.spare_state = state;
    add_part(chain, installation.rules, std::move(spare));
  }
  return installation;
}

}  // namespace whichlink::moves
