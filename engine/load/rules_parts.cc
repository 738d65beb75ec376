#include <algorithm>
#include <set>

#include "load/joined.h"
#include "load/rules_reader.h"
#include "moves/parts.h"

namespace whichlink::load {
namespace {

constexpr std::size_t kMostPieces = 60;
constexpr std::size_t kMostLanes = 60;

using Piece = faults::PartKind::Piece;

struct PieceLane {
  std::size_t piece = 0;
  std::optional<std::size_t> lane;
};

std::optional<PieceLane> read_piece_lane(const Node& node, const std::vector<Piece>& pieces,
                                         const Index<std::size_t>& index, Complaints& complaints) {
  const std::string text = sentence(node, complaints);
  if (text.empty()) return std::nullopt;
  const std::size_t stop = text.find('.');
  const auto piece = resolve(text.substr(0, stop), node.at, index, "piece", complaints);
  if (!piece) return std::nullopt;
  if (stop == std::string::npos) return PieceLane{*piece, std::nullopt};
  const std::vector<std::string>& lanes = pieces[*piece].lanes;
  const std::string lane = text.substr(stop + 1);
  const auto found = std::find(lanes.begin(), lanes.end(), lane);
  if (found == lanes.end()) {
    complaints.add(node.at, in_quotes(text.substr(0, stop)) + " has no lane " + in_quotes(lane),
                   lanes.empty() ? "the piece alone" : one_of(lanes), nearest(lane, lanes));
    return std::nullopt;
  }
  return PieceLane{*piece, static_cast<std::size_t>(found - lanes.begin())};
}

}  // namespace

void RulesReader::read_parts(Fields& top) {
  const Named named(top.find("parts"), top.scope(), complaints_);
  for (const Entry* entry : named.entries()) read_part(*entry, named.scope());
  add_classes_as_parts();
}

void RulesReader::add_classes_as_parts() {
  std::set<std::string> taken;
  for (const faults::PartKind& kind : rules_.part_kinds) taken.insert(kind.name);
  for (const ClassId id : rules_.classes.ids()) {
    const faults::ElementClass& element_class = rules_.classes[id];
    if (taken.contains(element_class.name)) continue;
    faults::PartKind kind;
    kind.name = element_class.name;
    kind.words = element_class.words;
    kind.pieces.push_back(Piece{"", id, {}});
    rules_.part_kinds.add(std::move(kind));
  }
}

void RulesReader::read_part(const Entry& entry, const Scope& scope) {
  Fields fields(&entry.value, entry.at, scope, complaints_);
  faults::PartKind kind;
  kind.name = entry.key;
  kind.words = fields.text("words");
  Index<std::size_t> pieces;
  if (const Node* node = fields.need("pieces", "at least one piece")) {
    const Named named(node, fields.scope(), complaints_, NameRule::in_chain, kMostPieces);
    if (named.entries().empty()) complaints_.add(node->at, "no pieces", "at least one");
    for (const Entry* piece : named.entries()) {
      pieces.add(piece->key, kind.pieces.size());
      kind.pieces.push_back(read_piece(*piece, named.scope()));
    }
  }
  read_moulded(fields, kind, pieces);
  if (kind.pieces.size() == 1) kind.pieces.front().name.clear();
  kind.exchangeable = fields.yes("exchangeable");
  kind.exchange_minutes = fields.number_or("exchange minutes", kMinutes, 0);
  kind.price_minutes = fields.number_or("price minutes", kMinutes, 0);
  kind.needs_after = fields.texts("needs after");
  kind.cautions = read_caution_list(fields);
  kind.source = fields.scope().source;
  rules_.part_kinds.add(std::move(kind));
}

Piece RulesReader::read_piece(const Entry& entry, const Scope& scope) {
  Piece piece;
  piece.name = entry.key;
  if (entry.value.kind != Kind::mapping) {
    const auto id = resolve(entry.value, classes_, "class", complaints_);
    if (id) piece.element_class = *id;
    return piece;
  }
  Fields fields(&entry.value, entry.at, scope, complaints_);
  if (const Node* node = fields.need("class", "a class")) {
    const auto id = resolve(*node, classes_, "class", complaints_);
    if (id) piece.element_class = *id;
  }
  if (const Node* node = fields.find("lanes")) {
    for (const Node& item : items(*node, complaints_)) {
      const std::string lane = name(item, NameRule::in_chain, complaints_);
      const auto& lanes = piece.lanes;
      if (lanes.size() == kMostLanes) {
        complaints_.add(item.at, "too many lanes", "at most " + std::to_string(kMostLanes));
        break;
      }
      if (std::find(lanes.begin(), lanes.end(), lane) != lanes.end()) {
        complaints_.add(item.at, "the lane " + in_quotes(lane) + " is listed twice", "it once");
      } else if (!lane.empty()) {
        piece.lanes.push_back(lane);
      }
    }
  }
  return piece;
}

void RulesReader::read_moulded(Fields& fields, faults::PartKind& kind,
                               const Index<std::size_t>& pieces) {
  const Node* node = fields.find("moulded");
  if (node == nullptr) return;
  Joined joined(kMostPieces * kMostLanes);
  for (const Node& item : items(*node, complaints_)) {
    if (item.kind == Kind::refused) continue;
    if (item.kind != Kind::sequence || item.items.size() != 2) {
      complaints_.add(item.at, "this is no joint", "two pieces: [one, another]");
      continue;
    }
    const auto a = read_piece_lane(item.items[0], kind.pieces, pieces, complaints_);
    const auto b = read_piece_lane(item.items[1], kind.pieces, pieces, complaints_);
    if (!a || !b) continue;
    if (a->piece == b->piece) {
      complaints_.add(item.at, "a joint of a piece with itself", "two different pieces");
      continue;
    }
    const auto lanes_of = [&](const PieceLane& side) {
      const auto& lanes = kind.pieces[side.piece].lanes;
      return side.lane ? std::vector<std::string>{lanes[*side.lane]} : lanes;
    };
    const auto pairs = moves::matching_lanes(lanes_of(*a), lanes_of(*b));
    if (!pairs) {
      complaints_.add(item.at, "the lanes of the two pieces differ",
                      "the same names on both sides, or one lane of each as piece.lane");
      continue;
    }
    bool closes_ring = false;
    for (const auto& [lane_a, lane_b] : *pairs) {
      const std::size_t from = a->piece * kMostLanes + a->lane.value_or(lane_a);
      const std::size_t to = b->piece * kMostLanes + b->lane.value_or(lane_b);
      closes_ring |= !joined.join(from, to);
    }
    if (closes_ring) {
      complaints_.add(item.at, "the two pieces are joined already", "joints without a ring");
    }
    kind.moulded.push_back({a->piece, b->piece, a->lane, b->lane});
  }
}

}  // namespace whichlink::load
