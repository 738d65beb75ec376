#include <algorithm>

#include "load/installation_reader.h"
#include "load/rules_reader.h"

namespace whichlink::load {
namespace {

constexpr std::size_t kMostConductors = 10'000;

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

}  // namespace

void InstallationReader::read_parts(Fields& top) {
  const Named by_place(top.need("parts", "parts by place"), top.scope(), complaints_);
  for (const Entry* entry : by_place.entries()) {
    const auto place = resolve(entry->key, entry->at, places_, "place", complaints_);
    const Named parts(&entry->value, by_place.scope(), complaints_, NameRule::in_chain);
    for (const Entry* part : parts.entries()) {
      read_part(*part, parts.scope(), place.value_or(PlaceId{0}));
    }
  }
}

void InstallationReader::read_part(const Entry& entry, const Scope& scope, PlaceId place) {
  chain::Part part;
  part.name = entry.key;
  part.place = place;
  std::optional<PartKindId> kind;
  std::map<std::string, PlaceId> piece_places;
  if (entry.value.kind == Kind::mapping) {
    Fields fields(&entry.value, entry.at, scope, complaints_);
    if (const Node* node = fields.need("kind", "a part or a class of the rules")) {
      kind = resolve(*node, kinds_, "kind of part", complaints_);
    }
    piece_places = read_piece_places(fields.find("place of"), fields.scope(), kind);
  } else {
    kind = resolve(entry.value, kinds_, "kind of part", complaints_);
  }
  add_part(std::move(part), kind, entry.at, piece_places);
}

std::map<std::string, PlaceId> InstallationReader::read_piece_places(
    const Node* node, const Scope& scope, std::optional<PartKindId> kind) {
  std::map<std::string, PlaceId> found;
  const Named named(node, scope, complaints_);
  Index<std::size_t> pieces;
  if (kind) {
    for (const auto& piece : rules_.part_kinds[*kind].pieces) {
      if (!piece.name.empty()) pieces.add(piece.name, pieces.names.size());
    }
  }
  for (const Entry* entry : named.entries()) {
    const auto place = resolve(entry->value, places_, "place", complaints_);
    if (!kind || !resolve(entry->key, entry->at, pieces, "piece", complaints_)) continue;
    if (place) found[entry->key] = *place;
  }
  return found;
}

void InstallationReader::read_spares(Fields& top) {
  Index<std::size_t> states;
  for (const faults::SpareState& state : rules_.spare_states) {
    states.add(state.name, states.names.size());
  }
  const Named named(top.find("spares"), top.scope(), complaints_, NameRule::in_chain);
  for (const Entry* entry : named.entries()) {
    Fields fields(&entry->value, entry->at, named.scope(), complaints_);
    chain::Part part;
    part.name = entry->key;
    part.spare = true;
    std::optional<PartKindId> kind;
    if (const Node* node = fields.need("kind", "a part or a class of the rules")) {
      kind = resolve(*node, kinds_, "kind of part", complaints_);
    }
    if (const Node* node = fields.need("state", one_of(states.names))) {
      if (resolve(*node, states, "spare state", complaints_)) part.spare_state = node->text;
    }
    if (const Node* node = fields.need("place", one_of(places_.names))) {
      const auto place = resolve(*node, places_, "place", complaints_);
      if (place) part.place = *place;
    }
    add_part(std::move(part), kind, entry->at, {});
  }
}

void InstallationReader::add_part(chain::Part part, std::optional<PartKindId> kind, Here at,
                                  const std::map<std::string, PlaceId>& piece_places) {
  if (const auto earlier = parts_.find(part.name)) {
    complaints_.add(
        at, "the part " + quoted(part.name) + " is there already",
        "a name of its own: line " + std::to_string(at_.parts[*earlier].line) + " has this one");
    return;
  }
  const std::string part_name = part.name;
  const PlaceId place = part.place;
  const PartId id = built_.chain.parts.add(std::move(part));
  parts_.add(part_name, id);
  at_.parts.add(at);
  if (!kind) return;  // the name is known, and whoever joins it need not hear of it again
  if (built_.chain.conductors.size() > kMostConductors) {
    complaints_.add(at, "the installation has too many lanes in all",
                    "at most " + std::to_string(kMostConductors));
    return;
  }
  built_.chain.parts[id].kind = *kind;
  for (const auto& piece : rules_.part_kinds[*kind].pieces) {
    const auto own = piece_places.find(piece.name);
    add_element(id, piece, own == piece_places.end() ? place : own->second);
  }
  add_moulded(id);
}

void InstallationReader::add_element(PartId part, const faults::PartKind::Piece& piece,
                                     PlaceId place) {
  const faults::ElementClass& element_class = rules_.classes[piece.element_class];
  chain::Element element;
  element.name = built_.chain.parts[part].name;
  if (!piece.name.empty()) element.name += "." + piece.name;
  element.element_class = piece.element_class;
  element.part = part;
  element.place = place;
  element.end = end_of(element_class.role);
  element.connector = element_class.connector.value_or("");
  const ElementId id = built_.chain.elements.add(std::move(element));
  built_.chain.parts[part].elements.push_back(id);
  std::vector<std::string> lanes = piece.lanes;
  if (lanes.empty()) lanes.emplace_back();
  for (const std::string& lane : lanes) {
    built_.chain.elements[id].conductors.push_back(built_.chain.conductors.add({id, lane}));
  }
}

void InstallationReader::add_moulded(PartId part) {
  const chain::Part& built = built_.chain.parts[part];
  const faults::PartKind& kind = rules_.part_kinds[built.kind];
  for (const auto& joint : kind.moulded) {
    const auto& a = built_.chain.elements[built.elements[joint.piece_a]].conductors;
    const auto& b = built_.chain.elements[built.elements[joint.piece_b]].conductors;
    const auto lanes = [](const faults::PartKind::Piece& piece, std::optional<std::size_t> lane) {
      return lane ? std::vector<std::string>{piece.lanes[*lane]} : piece.lanes;
    };
    const auto pairs = matching_lanes(lanes(kind.pieces[joint.piece_a], joint.lane_a),
                                      lanes(kind.pieces[joint.piece_b], joint.lane_b));
    if (!pairs) continue;
    for (const auto& [lane_a, lane_b] : *pairs) {
      const ConductorId one = a[joint.lane_a.value_or(lane_a)];
      const ConductorId other = b[joint.lane_b.value_or(lane_b)];
      built_.chain.bonds.push_back({one, other});
      joined_.insert({one, other});
      joined_.insert({other, one});
    }
  }
}

}  // namespace whichlink::load
