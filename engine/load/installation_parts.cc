#include <algorithm>

#include "load/installation_reader.h"
#include "moves/parts.h"

namespace whichlink::load {
namespace {

constexpr std::size_t kMostConductors = 10'000;

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
        at, "the part " + in_quotes(part.name) + " is there already",
        "a name of its own: line " + std::to_string(at_.parts[*earlier].line) + " has this one");
    return;
  }
  at_.parts.add(at);
  const std::string part_name = part.name;
  const bool too_many = built_.chain.conductors.size() > kMostConductors;
  if (kind && too_many && !said_too_many_) {
    said_too_many_ = true;  // once: those that follow are too many as well
    complaints_.add(at, "the installation has too many lanes in all",
                    "at most " + std::to_string(kMostConductors));
  }
  if (!kind || too_many) {
    // The name is known, and whoever joins it need not hear of it again.
    parts_.add(part_name, built_.chain.parts.add(std::move(part)));
    return;
  }
  part.kind = *kind;
  const std::size_t bonds = built_.chain.bonds.size();
  parts_.add(part_name, moves::add_part(built_.chain, rules_, std::move(part), piece_places));
  for (std::size_t bond = bonds; bond < built_.chain.bonds.size(); ++bond) {
    const auto& [one, other] = built_.chain.bonds[bond];
    joined_.insert({one, other});
    joined_.insert({other, one});
  }
}

}  // namespace whichlink::load
