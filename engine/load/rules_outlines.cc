#include <algorithm>

#include "load/rules_reader.h"

namespace whichlink::load {
namespace {

constexpr std::size_t kMostOutlinePlaces = 20;
constexpr std::size_t kMostKinds = 60;
constexpr std::size_t kMostChoices = 6;
constexpr std::size_t kMostWays = 9;
constexpr std::size_t kMostOutlineRoutes = 60;
constexpr std::size_t kMostSteps = 60;
/// Of one outline's choices: each is followed once.
constexpr std::size_t kMostTogether = 200;

using faults::JointKind;
using faults::Outline;
using faults::OutlineChoice;
using faults::Outlines;
using faults::OutlineStep;
using faults::Role;

std::string name_in(Fields& fields, const std::string& key) {
  const Node* node = fields.need(key, "a name");
  return node == nullptr ? "" : name(*node, NameRule::any, fields.complaints());
}

/// The next combination of ways; false after the last.
bool advance(std::vector<std::size_t>& ways, const Outline& outline) {
  for (std::size_t choice = 0; choice < ways.size(); ++choice) {
    if (++ways[choice] < outline.choices[choice].ways.size()) return true;
    ways[choice] = 0;
  }
  return false;
}

}  // namespace

void RulesReader::read_outlines(Fields& top) {
  const Node* node = top.find("outlines");
  if (node == nullptr) return;
  for (const PartKindId id : rules_.part_kinds.ids()) kinds_.add(rules_.part_kinds[id].name, id);
  Fields fields(node, node->at, top.scope(), complaints_);
  Outlines outlines;
  outlines.called = fields.text("called");
  constexpr Range kPeople{1, 2, "1 or 2"};
  if (fields.need("people", kPeople.expected) != nullptr) {
    outlines.people = static_cast<int>(whole_number(fields, "people", kPeople, 1));
  }
  read_outline_places(fields, outlines);
  read_outline_parts(fields, outlines);
  if (const Node* kinds = fields.need("kinds", "at least one kind of equipment")) {
    const Named named(kinds, fields.scope(), complaints_, NameRule::any, kMostKinds);
    if (named.entries().empty()) complaints_.add(kinds->at, "no kinds", "at least one");
    for (const Entry* entry : named.entries()) read_outline(*entry, named.scope(), outlines);
  }
  outlines.source = fields.scope().source;
  rules_.outlines = std::move(outlines);
}

void RulesReader::read_outline_places(Fields& fields, Outlines& outlines) {
  if (const Node* node = fields.need("places", "at least one place")) {
    const Named named(node, fields.scope(), complaints_, NameRule::any, kMostOutlinePlaces);
    if (named.entries().empty()) complaints_.add(node->at, "no places", "at least one");
    std::vector<std::string> names;
    for (const Entry* entry : named.entries()) {
      Fields one(&entry->value, entry->at, named.scope(), complaints_);
      outline_places_.add(entry->key, outlines.places.size());
      outlines.places.push_back({entry->key, one.text("words"), name_in(one, "name")});
      const std::string& given = outlines.places.back().name;
      if (std::find(names.begin(), names.end(), given) != names.end()) {
        complaints_.add(entry->at, "two places are called " + in_quotes(given), "a name for each");
      }
      names.push_back(given);
    }
  }
  if (const Node* node = fields.need("together", "{words: ..., name: ...}")) {
    Fields together(node, node->at, fields.scope(), complaints_);
    outlines.together_words = together.text("words");
    outlines.together_name = name_in(together, "name");
  }
  outlines.usual_apart = fields.yes("usual apart");
  const Node* node = fields.find("apart");
  if (node == nullptr) {
    if (outlines.usual_apart) {
      complaints_.add(fields.at(), "usually apart, and nothing says how far",
                      "apart: {words: ..., walking minutes: ...}");
    }
    return;
  }
  Fields apart(node, node->at, fields.scope(), complaints_);
  outlines.apart_words = apart.text("words");
  outlines.walking_minutes = apart.number("walking minutes", kMinutes);
  outlines.walking_source = apart.scope().source;
  if (outlines.places.size() == 1) {
    complaints_.add(node->at, "one place cannot be apart", "two places or more");
  }
}

void RulesReader::read_outline_parts(Fields& fields, Outlines& outlines) {
  const Node* node = fields.need("parts", "by place, the parts of all outlines");
  const Named places(node, fields.scope(), complaints_);
  for (const Entry* group : places.entries()) {
    const auto place = resolve(group->key, group->at, outline_places_, "place", complaints_);
    const Named named(&group->value, places.scope(), complaints_, NameRule::in_chain);
    for (const Entry* entry : named.entries()) {
      read_outline_part(*entry, named.scope(), place.value_or(0), outlines);
    }
  }
}

void RulesReader::read_outline_part(const Entry& entry, const Scope& scope, std::size_t place,
                                    Outlines& outlines) {
  faults::OutlinePart part;
  part.name = entry.key;
  part.place = place;
  std::optional<PartKindId> kind;
  if (entry.value.kind == Kind::mapping) {
    Fields fields(&entry.value, entry.at, scope, complaints_);
    if (const Node* node = fields.need("kind", "a part or a class of the rules")) {
      kind = resolve(*node, kinds_, "kind of part", complaints_);
    }
    const Named elsewhere(fields.find("place of"), fields.scope(), complaints_);
    for (const Entry* piece : elsewhere.entries()) {
      const auto there = resolve(piece->value, outline_places_, "place", complaints_);
      if (!kind || !there) continue;
      const auto spot = rules_.part_kinds[*kind].find(piece->key);
      if (!spot || spot->lane) {
        complaints_.add(
            piece->at,
            in_quotes(rules_.part_kinds[*kind].name) + " has no piece " + in_quotes(piece->key),
            "one of its pieces");
      }
      part.piece_places[piece->key] = *there;
    }
  } else {
    kind = resolve(entry.value, kinds_, "kind of part", complaints_);
  }
  if (outline_parts_.find(part.name)) {
    complaints_.add(entry.at, "the part " + in_quotes(part.name) + " is there already",
                    "a name of its own");
    return;
  }
  if (!kind) return;
  part.kind = *kind;
  outline_parts_.add(part.name, outlines.parts.size());
  outlines.parts.push_back(std::move(part));
}

void RulesReader::read_outline(const Entry& entry, const Scope& scope, Outlines& outlines) {
  const std::size_t before = complaints_.count();
  Fields fields(&entry.value, entry.at, scope, complaints_);
  Outline outline;
  outline.name = entry.key;
  outline.words = fields.text("words");
  outline.look = fields.text("look");
  outline.usual = fields.yes("usual");
  const Node* node = fields.find("choices");
  const Named choices(node, fields.scope(), complaints_, NameRule::any, kMostChoices);
  std::size_t together = 1;
  for (const Entry* choice : choices.entries()) {
    read_outline_choice(*choice, choices.scope(), outline);
    together *= std::max<std::size_t>(outline.choices.back().ways.size(), 1);
  }
  if (together > kMostTogether) {
    complaints_.add(node->at, "choices that combine in " + std::to_string(together) + " ways",
                    "at most " + std::to_string(kMostTogether));
  }
  step_places_.clear();
  if (const Node* routes = fields.need("routes", "at least one route")) {
    const Named named(routes, fields.scope(), complaints_, NameRule::any, kMostOutlineRoutes);
    if (named.entries().empty()) complaints_.add(routes->at, "no routes", "at least one");
    for (const Entry* route : named.entries()) {
      read_outline_route(*route, named.scope(), outline, outlines);
    }
    for (const faults::OutlineRoute& route : outline.routes) {
      if (route.pair.empty()) continue;
      const auto other =
          std::find_if(outline.routes.begin(), outline.routes.end(),
                       [&](const faults::OutlineRoute& one) { return one.name == route.pair; });
      if (other != outline.routes.end() && other->pair == route.name && &*other != &route) continue;
      complaints_.add(routes->at,
                      in_quotes(route.pair) + " is no partner of " + in_quotes(route.name),
                      "another route of the same kind that says `pair: " + route.name + "`");
    }
  }
  if (complaints_.count() == before) check_outline_ways(outline, outlines, step_places_);
  outlines.kinds.push_back(std::move(outline));
}

std::size_t RulesReader::read_usual_way(Fields& fields, const std::string& key,
                                        const OutlineChoice& choice, bool apart) {
  Index<std::size_t> ways;
  for (std::size_t way = 0; way < choice.ways.size(); ++way) {
    if (apart || !choice.ways[way].needs_apart) ways.add(choice.ways[way].name, way);
  }
  const Node* node = fields.need(key, one_of(ways.names));
  if (node == nullptr || ways.names.empty()) return 0;
  return resolve(*node, ways, "way", complaints_).value_or(0);
}

void RulesReader::read_outline_choice(const Entry& entry, const Scope& scope, Outline& outline) {
  Fields fields(&entry.value, entry.at, scope, complaints_);
  OutlineChoice choice;
  choice.name = entry.key;
  choice.asks = fields.text("asks");
  choice.because = fields.text("because");
  if (const Node* node = fields.need("ways", "at least two ways")) {
    const Named named(node, fields.scope(), complaints_, NameRule::any, kMostWays);
    if (named.entries().size() < 2) complaints_.add(node->at, "no choice", "at least two ways");
    for (const Entry* way : named.entries()) {
      Fields one(&way->value, way->at, named.scope(), complaints_);
      choice.ways.push_back({way->key, one.text("words"), one.yes("apart")});
      for (const OutlineChoice& earlier : outline.choices) {
        for (const faults::OutlineWay& other : earlier.ways) {
          if (other.name != way->key) continue;
          complaints_.add(way->at, "the way " + in_quotes(way->key) + " is there already",
                          "a name of its own among all choices of this kind");
        }
      }
    }
  }
  choice.usual_together = read_usual_way(fields, "usual together", choice, false);
  choice.usual_apart = read_usual_way(fields, "usual apart", choice, true);
  outline.choices.push_back(std::move(choice));
}

void RulesReader::read_outline_route(const Entry& entry, const Scope& scope, Outline& outline,
                                     const Outlines& outlines) {
  Fields fields(&entry.value, entry.at, scope, complaints_);
  faults::OutlineRoute route;
  route.name = entry.key;
  if (std::find(outline_routes_.begin(), outline_routes_.end(), route.name) !=
      outline_routes_.end()) {
    complaints_.add(entry.at, "the route " + in_quotes(route.name) + " is there already",
                    "a name of its own");
  }
  outline_routes_.push_back(route.name);
  if (const Node* node = fields.need("signal", one_of(signals_.names))) {
    const auto signal = resolve(*node, signals_, "signal", complaints_);
    if (signal) route.signal = *signal;
  }
  route.side = fields.text_or_empty("side");
  if (!route.side.empty() && route.side != "left" && route.side != "right") {
    complaints_.add(entry.at, in_quotes(route.side) + " is no side", "left or right");
  }
  route.pair = fields.text_or_empty("pair");
  std::vector<Here> at;
  if (const Node* node = fields.need("way", "the parts from the source to the end")) {
    for (const Node& item : some_items(*node, kMostSteps, complaints_)) {
      route.steps.push_back(
          read_outline_step(item, route.steps.empty(), fields.scope(), outline, outlines));
      at.push_back(item.at);
    }
    if (route.steps.size() == 1) {
      complaints_.add(node->at, "a way of one part", "a source and an end at least");
    }
  }
  step_places_.push_back(std::move(at));
  outline.routes.push_back(std::move(route));
}

OutlineStep RulesReader::read_outline_step(const Node& item, bool first, const Scope& scope,
                                           const Outline& outline, const Outlines& outlines) {
  OutlineStep step;
  Fields fields(&item, item.at, scope, complaints_);
  const Node* part = nullptr;
  if (first) {
    part = fields.need("from", "the part where the signal starts");
  } else {
    const std::vector<std::pair<const char*, JointKind>> joints = {
        {"fixed", JointKind::fixed},
        {"switched", JointKind::switched},
        {"plugged", JointKind::plugged}};
    for (const auto& [word, joint] : joints) {
      const Node* node = fields.find(word);
      if (node == nullptr) continue;
      if (part != nullptr) complaints_.add(node->at, "two joints in one step", "one of them");
      part = node;
      step.joint = joint;
    }
    if (part == nullptr && item.kind == Kind::mapping) {
      complaints_.add(item.at, "a step without its joint", "fixed, switched or plugged: a part");
    }
  }
  step.in = fields.text_or_empty("in");
  step.out = fields.text_or_empty("out");
  if (step.out.empty()) step.out = step.in;
  if (first) step.in = step.out;
  read_only(fields, step, outline);
  if (first && !step.only.empty()) {
    complaints_.add(item.at, "a first step that is not always there", "one without `only`");
  }
  if (part == nullptr) return step;
  const auto found = resolve(*part, outline_parts_, "part", complaints_);
  if (!found) return step;
  step.part = *found;
  const faults::PartKind& kind = rules_.part_kinds[outlines.parts[*found].kind];
  for (const std::string& end : {step.in, step.out}) {
    const auto spot = kind.find(end);
    const bool one_lane = spot && (spot->lane || kind.pieces[spot->piece].lanes.size() <= 1);
    if (one_lane) continue;
    complaints_.add(item.at, in_quotes(kind.name) + " has no single way at " + in_quotes(end),
                    "`in` and `out`: a piece, or a lane of it");
    break;
  }
  return step;
}

void RulesReader::read_only(Fields& fields, OutlineStep& step, const Outline& outline) {
  const Node* node = fields.find("only");
  if (node == nullptr) return;
  Index<std::pair<std::size_t, std::size_t>> ways;
  for (std::size_t choice = 0; choice < outline.choices.size(); ++choice) {
    for (std::size_t way = 0; way < outline.choices[choice].ways.size(); ++way) {
      ways.add(outline.choices[choice].ways[way].name, {choice, way});
    }
  }
  step.only = resolve_list(fields, "only", ways, "way");
  if (node->kind == Kind::sequence && node->items.empty()) {
    complaints_.add(node->at, "an empty list", "at least one way");
  }
  std::sort(step.only.begin(), step.only.end());
}

const faults::ElementClass& RulesReader::class_at(const OutlineStep& step,
                                                  const std::string& after_name,
                                                  const Outlines& outlines) const {
  const faults::PartKind& kind = rules_.part_kinds[outlines.parts[step.part].kind];
  return rules_.classes[kind.pieces[kind.find(after_name)->piece].element_class];
}

// Every combination of ways, each route from its source to its end.
void RulesReader::check_outline_ways(const Outline& outline, const Outlines& outlines,
                                     const std::vector<std::vector<Here>>& at) {
  std::vector<std::size_t> ways(outline.choices.size(), 0);
  do {
    const std::size_t before = complaints_.count();
    for (std::size_t route = 0; route < outline.routes.size(); ++route) {
      const std::vector<OutlineStep>& steps = outline.routes[route].steps;
      const OutlineStep* last = nullptr;
      for (std::size_t index = 0; index < steps.size(); ++index) {
        if (!faults::is_there(steps[index], ways)) continue;
        if (last != nullptr) check_outline_joint(*last, steps[index], outlines, at[route][index]);
        last = &steps[index];
      }
      if (class_at(steps.front(), steps.front().out, outlines).role != Role::source) {
        complaints_.add(at[route].front(), "no signal starts here",
                        "a part whose class has `role: source`");
      }
      if (class_at(*last, last->out, outlines).role != Role::end) {
        complaints_.add(at[route][static_cast<std::size_t>(last - steps.data())],
                        "a way that ends here, where no signal comes out",
                        "a part whose class has `role: end`");
      }
    }
    if (complaints_.count() != before) return;  // other combinations would say the same
  } while (advance(ways, outline));
}

void RulesReader::check_outline_joint(const OutlineStep& before, const OutlineStep& step,
                                      const Outlines& outlines, Here at) {
  const faults::ElementClass& a = class_at(before, before.out, outlines);
  const faults::ElementClass& b = class_at(step, step.in, outlines);
  const bool plug_and_jack = (a.role == Role::plug && b.role == Role::jack) ||
                             (a.role == Role::jack && b.role == Role::plug);
  const std::string between = in_quotes(outlines.parts[before.part].name) + " and " +
                              in_quotes(outlines.parts[step.part].name);
  if (step.joint == JointKind::plugged && (!plug_and_jack || a.connector != b.connector)) {
    complaints_.add(at, between + " cannot be plugged together", "a plug and a jack that it fits");
  }
  if (step.joint != JointKind::plugged && (a.role == Role::plug || b.role == Role::plug)) {
    complaints_.add(at, "a plug between " + between + " that is joined for good", "plugged");
  }
}

}  // namespace whichlink::load
