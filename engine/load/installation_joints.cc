#include <algorithm>

#include "load/installation_reader.h"
#include "load/rules_reader.h"
#include "moves/parts.h"

namespace whichlink::load {
namespace {

/// "part.piece.lane" in its words.
std::vector<std::string> words_of(const std::string& name) {
  std::vector<std::string> words(1);
  for (const char letter : name) {
    if (letter == '.') {
      words.emplace_back();
    } else {
      words.back().push_back(letter);
    }
  }
  return words;
}

std::string is(chain::End end) {
  switch (end) {
    case chain::End::plug:
      return " is a plug";
    case chain::End::jack:
      return " is a jack";
    case chain::End::neither:
      break;
  }
  return " is neither plug nor jack";
}

}  // namespace

std::vector<std::string> InstallationReader::lanes_of(const Spot& spot) const {
  const auto& conductors = built_.chain.elements[spot.element].conductors;
  if (spot.lane) return {built_.chain.conductors[conductors[*spot.lane]].lane};
  std::vector<std::string> lanes;
  lanes.reserve(conductors.size());
  for (const ConductorId conductor : conductors) {
    lanes.push_back(built_.chain.conductors[conductor].lane);
  }
  return lanes;
}

std::string InstallationReader::name_of(const Spot& spot) const {
  const chain::Element& element = built_.chain.elements[spot.element];
  return spot.lane ? chain::name_of(built_.chain, element.conductors[*spot.lane]) : element.name;
}

std::optional<InstallationReader::Spot> InstallationReader::read_spot(const Node& node) {
  const std::string text = sentence(node, complaints_);
  if (text.empty()) return std::nullopt;
  const std::vector<std::string> words = words_of(text);
  const auto part_id = resolve(words[0], node.at, parts_, "part", complaints_);
  if (!part_id) return std::nullopt;
  const chain::Part& part = built_.chain.parts[*part_id];
  if (part.elements.empty()) return std::nullopt;  // complained of where the part stands
  if (part.spare) {
    complaints_.add(node.at, in_quotes(part.name) + " is a spare, which is joined to nothing",
                    "a part from `parts`");
    return std::nullopt;
  }
  const bool one_piece = part.elements.size() == 1;
  const std::size_t lane_word = one_piece ? 1 : 2;
  ElementId element = part.elements.front();
  if (!one_piece) {
    Index<ElementId> pieces;
    for (const ElementId id : part.elements) pieces.add(built_.chain.elements[id].name, id);
    if (words.size() == 1) {
      complaints_.add(node.at, in_quotes(text) + " is a part of several pieces",
                      one_of(pieces.names));
      return std::nullopt;
    }
    const auto piece = resolve(words[0] + "." + words[1], node.at, pieces, "piece", complaints_);
    if (!piece) return std::nullopt;
    element = *piece;
  }
  if (words.size() > lane_word + 1) {
    complaints_.add(node.at, in_quotes(text) + " has too many full stops",
                    one_piece ? "part or part.lane" : "part.piece or part.piece.lane");
    return std::nullopt;
  }
  if (words.size() == lane_word + 1) return read_lane(node, element, words[lane_word]);
  return Spot{element, std::nullopt};
}

std::optional<InstallationReader::Spot> InstallationReader::read_lane(const Node& node,
                                                                      ElementId element,
                                                                      const std::string& lane) {
  const std::vector<std::string> lanes = lanes_of({element, std::nullopt});
  const std::string& whole = built_.chain.elements[element].name;
  if (lanes.size() == 1 && lanes.front().empty()) {
    complaints_.add(node.at, in_quotes(whole) + " has no named lanes or pieces", in_quotes(whole));
    return std::nullopt;
  }
  const auto found = std::find(lanes.begin(), lanes.end(), lane);
  if (found == lanes.end()) {
    complaints_.add(node.at, in_quotes(whole) + " has no lane " + in_quotes(lane), one_of(lanes),
                    nearest(lane, lanes));
    return std::nullopt;
  }
  return Spot{element, static_cast<std::size_t>(found - lanes.begin())};
}

std::optional<ConductorId> InstallationReader::read_conductor(const Node& node) {
  const auto spot = read_spot(node);
  if (!spot) return std::nullopt;
  const chain::Element& element = built_.chain.elements[spot->element];
  if (spot->lane) return element.conductors[*spot->lane];
  if (element.conductors.size() == 1) return element.conductors.front();
  std::vector<std::string> names;
  for (const ConductorId one : element.conductors) {
    names.push_back(chain::name_of(built_.chain, one));
  }
  complaints_.add(node.at, in_quotes(element.name) + " has several lanes", one_of(names));
  return std::nullopt;
}

std::optional<std::pair<InstallationReader::Spot, InstallationReader::Spot>>
InstallationReader::read_joint(const Node& item) {
  if (item.kind == Kind::refused) return std::nullopt;
  if (item.kind != Kind::sequence || item.items.size() != 2) {
    complaints_.add(item.at, "this is no joint", "two elements: [one, another]");
    return std::nullopt;
  }
  const auto a = read_spot(item.items[0]);
  const auto b = read_spot(item.items[1]);
  if (!a || !b) return std::nullopt;
  if (a->element == b->element) {
    complaints_.add(item.at, "a joint of " + in_quotes(name_of(*a)) + " with itself",
                    "two different elements");
    return std::nullopt;
  }
  return std::make_pair(*a, *b);
}

std::vector<InstallationReader::Joined> InstallationReader::join(const Spot& a, const Spot& b,
                                                                 Here at) {
  std::vector<Joined> made;
  const auto pairs = moves::matching_lanes(lanes_of(a), lanes_of(b));
  if (!pairs) {
    complaints_.add(
        at, "the lanes of " + in_quotes(name_of(a)) + " and " + in_quotes(name_of(b)) + " differ",
        "the same names on both sides, or one lane of each");
    return made;
  }
  bool repeated = false;
  for (const auto& [lane_a, lane_b] : *pairs) {
    const Joined pair{built_.chain.elements[a.element].conductors[a.lane.value_or(lane_a)],
                      built_.chain.elements[b.element].conductors[b.lane.value_or(lane_b)]};
    repeated |= !joined_.insert(pair).second;
    joined_.insert({pair.second, pair.first});
    at_.joints.push_back({pair.first, pair.second, at});
    made.push_back(pair);
  }
  if (repeated) {
    complaints_.add(at,
                    in_quotes(name_of(a)) + " and " + in_quotes(name_of(b)) + " are joined already",
                    "each joint once");
  }
  return made;
}

void InstallationReader::read_fixed(Fields& top) {
  const Node* node = top.find("fixed");
  if (node == nullptr) return;
  for (const Node& item : items(*node, complaints_)) {
    const auto joint = read_joint(item);
    if (!joint) continue;
    const chain::Chain& chain = built_.chain;
    const ElementId a = joint->first.element;
    const ElementId b = joint->second.element;
    if (chain::fits(chain, a, b) || chain::fits(chain, b, a)) {
      complaints_.add(item.at, "a plug in its jack is no fixed joint", "it under plugged");
      continue;
    }
    for (const auto& [one, other] : join(joint->first, joint->second, item.at)) {
      built_.chain.bonds.push_back({one, other});
    }
  }
}

void InstallationReader::read_switched(Fields& top) {
  const Node* node = top.find("switched");
  if (node == nullptr) return;
  for (const Node& item : items(*node, complaints_)) {
    const auto joint = read_joint(item);
    if (!joint) continue;
    for (const auto& [common, selected] : join(joint->first, joint->second, item.at)) {
      built_.chain.switches.push_back({common, selected});
    }
  }
}

void InstallationReader::read_plugged(Fields& top) {
  const Node* node = top.find("plugged");
  if (node == nullptr) return;
  for (const Node& item : items(*node, complaints_)) {
    const auto joint = read_joint(item);
    if (!joint) continue;
    if (joint->first.lane || joint->second.lane) {
      complaints_.add(item.at, "a single lane of a plug or jack", "the whole plug and jack");
      continue;
    }
    plug(joint->first.element, joint->second.element, item.at);
  }
}

bool InstallationReader::is_pluggable(ElementId plug, ElementId jack, Here at) {
  const chain::Chain& chain = built_.chain;
  const chain::Element& one = chain.elements[plug];
  const chain::Element& other = chain.elements[jack];
  if (one.end == chain::End::jack && other.end == chain::End::plug) {
    complaints_.add(at, "the jack stands before the plug",
                    "[" + other.name + ", " + one.name + "]");
  } else if (one.end != chain::End::plug) {
    complaints_.add(at, in_quotes(one.name) + is(one.end), "a plug first");
  } else if (other.end != chain::End::jack) {
    complaints_.add(at, in_quotes(other.name) + is(other.end), "a jack second");
  } else if (one.connector != other.connector) {
    complaints_.add(at,
                    "a " + one.connector + " plug does not go into a " + other.connector + " jack",
                    "plug and jack of one connector");
  } else if (!chain::fits(chain, plug, jack)) {
    complaints_.add(at, "a plug and a jack with different numbers of lanes", "as many in both");
  } else {
    return true;
  }
  return false;
}

bool InstallationReader::is_free(ElementId plug, ElementId jack, Here at) {
  const chain::Chain& chain = built_.chain;
  const std::string name = in_quotes(chain.elements[plug].name);
  const auto home = chain.home.plug_in[plug];
  const auto holder = plug_in_jack_.find(jack);
  if (home == jack) {
    complaints_.add(at, name + " is plugged there already", "each joint once");
  } else if (home) {
    complaints_.add(at,
                    name + " is plugged into " + in_quotes(chain.elements[*home].name) + " already",
                    "one jack to a plug");
  } else if (holder != plug_in_jack_.end()) {
    complaints_.add(at,
                    in_quotes(chain.elements[jack].name) + " holds " +
                        in_quotes(chain.elements[holder->second].name) + " already",
                    "one plug to a jack");
  } else {
    return true;
  }
  return false;
}

void InstallationReader::plug(ElementId plug, ElementId jack, Here at) {
  if (!is_pluggable(plug, jack, at) || !is_free(plug, jack, at)) return;
  chain::Chain& chain = built_.chain;
  const chain::Element& one = chain.elements[plug];
  const chain::Element& other = chain.elements[jack];
  chain.home.plug_in[plug] = jack;
  plug_in_jack_.emplace(jack, plug);
  bool repeated = false;
  for (std::size_t lane = 0; lane < one.conductors.size(); ++lane) {
    repeated |= !joined_.insert({one.conductors[lane], other.conductors[lane]}).second;
    joined_.insert({other.conductors[lane], one.conductors[lane]});
    at_.joints.push_back({one.conductors[lane], other.conductors[lane], at});
  }
  if (repeated) {
    complaints_.add(at,
                    in_quotes(one.name) + " and " + in_quotes(other.name) + " are joined already",
                    "each joint once");
  }
}

}  // namespace whichlink::load
