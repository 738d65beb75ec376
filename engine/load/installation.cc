#include "load/installation_checks.h"
#include "load/installation_reader.h"
#include "load/load.h"
#include "load/rules_name.h"
#include "load/rules_reader.h"

namespace whichlink::load {
namespace {

constexpr std::size_t kMostPlaces = 100;
constexpr std::size_t kMostRoutes = 200;

}  // namespace

std::string read_rules_name(Fields& top) {
  const Node* node = top.need("rules", "the name of the rules: NAME for NAME.yaml");
  if (node == nullptr) return "";
  std::string text = name(*node, NameRule::any, top.complaints());
  if (text.empty()) return "";
  if (text.find_first_of("/\\") != std::string::npos || text.front() == '.') {
    top.complaints().add(node->at, in_quotes(text) + " is no name of rules",
                         "a name without slashes that does not begin with a full stop");
    return "";
  }
  return text;
}

InstallationReader::InstallationReader(const faults::Rules& rules, Complaints& complaints)
    : rules_(rules), complaints_(complaints) {
  for (const PartKindId id : rules.part_kinds.ids()) kinds_.add(rules.part_kinds[id].name, id);
  for (const SignalId id : rules.signals.ids()) signals_.add(rules.signals[id].name, id);
}

moves::Installation InstallationReader::read(const Node& root) {
  Fields top(&root, root.at, {}, complaints_);
  built_.name = top.text("installation");
  built_.about = top.text("about");
  (void)read_rules_name(top);
  if (const Node* node = top.need("people", "1 or 2")) {
    constexpr Range kPeople{1, 2, "1 or 2"};
    const double people = number(*node, kPeople, top.scope(), complaints_);
    built_.people = people < 1.5 ? 1 : 2;
    if (people != built_.people) {
      complaints_.add(node->at, in_quotes(node->text) + " people", kPeople.expected);
    }
  }
  read_places(top);
  read_start(top);
  read_parts(top);
  read_spares(top);
  read_walking(top);
  built_.chain.home.plug_in.resize(built_.chain.elements.size());
  read_fixed(top);
  read_switched(top);
  read_plugged(top);
  read_routes(top);
  const Node* prices = top.find("prices");
  built_.prices = prices == nullptr ? rules_.prices : read_prices(prices, top.scope(), complaints_);
  if (const Node* meter = top.find("meter")) has_meter_ = yes_or_no(*meter, complaints_);
  days_since_pass_ =
      top.number_or("days since pass", kDays, rules_.handling.default_days_since_pass);
  built_.use = rules_.use;
  if (const Node* use = top.find("use")) {
    Fields fields(use, use->at, top.scope(), complaints_);
    if (!built_.use) {
      complaints_.add(use->at, "the rules of this trade have no \"use\"", "no such key");
    } else {
      read_use_numbers(fields, *built_.use);
    }
  }
  return std::move(built_);
}

void InstallationReader::change(faults::Rules& rules) const {
  if (!has_meter_) rules.meter.reset();
  rules.handling.default_days_since_pass = days_since_pass_;
}

void InstallationReader::read_places(Fields& top) {
  const Node* node = top.need("places", "at least one place");
  if (node == nullptr) return;
  const auto& list = items(*node, complaints_);
  if (node->kind == Kind::nothing || (node->kind == Kind::sequence && list.empty())) {
    complaints_.add(node->at, "no places", "at least one");
  }
  for (const Node& item : list) {
    if (built_.chain.places.size() == kMostPlaces) {
      complaints_.add(item.at, "too many places", "at most " + std::to_string(kMostPlaces));
      break;
    }
    const std::string place = name(item, NameRule::any, complaints_);
    if (place.empty()) continue;
    if (places_.find(place)) {
      complaints_.add(item.at, "the place " + in_quotes(place) + " is listed twice", "it once");
      continue;
    }
    places_.add(place, built_.chain.places.add({place}));
    place_items_.push_back(item.at);
  }
  IdVector<PlaceId, double> row;
  row.resize(built_.chain.places.size(), 0);
  built_.chain.walking_minutes.resize(built_.chain.places.size(), row);
}

void InstallationReader::read_start(Fields& top) {
  const Node* node = top.need("start", one_of(places_.names));
  if (node == nullptr) return;
  if (const auto place = resolve(*node, places_, "place", complaints_)) built_.start = *place;
}

void InstallationReader::read_walking(Fields& top) {
  const std::size_t before = complaints_.count();
  const Node* node = top.find("walking");
  if (node != nullptr) {
    for (const Node& item : items(*node, complaints_)) read_walk(item, top.scope());
  }
  if (complaints_.count() == before) check_walking(node);
}

void InstallationReader::read_walk(const Node& item, const Scope& scope) {
  Fields fields(&item, item.at, scope, complaints_);
  const double minutes = fields.number("minutes", kMinutes);
  const Node* node = fields.need("between", "two places: [one, another]");
  if (node == nullptr || node->kind == Kind::refused) return;
  if (node->kind != Kind::sequence || node->items.size() != 2) {
    complaints_.add(node->at, "these are not two places", "two places: [one, another]");
    return;
  }
  const auto from = resolve(node->items[0], places_, "place", complaints_);
  const auto to = resolve(node->items[1], places_, "place", complaints_);
  if (!from || !to) return;
  if (*from == *to) {
    complaints_.add(node->at, "a way from a place to itself", "two different places");
    return;
  }
  if (!walks_.insert({*from, *to}).second) {
    complaints_.add(node->at, "this way is there already", "each pair of places once");
    return;
  }
  walks_.insert({*to, *from});
  built_.chain.walking_minutes[*from][*to] = minutes;
  built_.chain.walking_minutes[*to][*from] = minutes;
}

void InstallationReader::check_walking(const Node* walking) {
  std::set<PlaceId> used;
  if (!place_items_.empty()) used.insert(built_.start);
  for (const chain::Part& part : built_.chain.parts) used.insert(part.place);
  for (const chain::Element& element : built_.chain.elements) used.insert(element.place);
  for (const PlaceId from : used) {
    for (const PlaceId to : used) {
      if (from >= to || walks_.contains({from, to}) || complaints_.full()) continue;
      const auto& names = built_.chain.places;
      complaints_.add(
          walking != nullptr ? walking->at : place_items_[to.value],
          "no way between " + in_quotes(names[from].name) + " and " + in_quotes(names[to].name),
          "under walking: {between: [one, another], minutes: ...}");
    }
  }
}

void InstallationReader::read_routes(Fields& top) {
  const Node* node = top.need("routes", "at least one route");
  if (node == nullptr) return;
  const Named named(node, top.scope(), complaints_, NameRule::any, kMostRoutes);
  if (named.entries().empty()) complaints_.add(node->at, "no routes", "at least one");
  std::vector<std::pair<RouteId, const Node*>> pairs;
  for (const Entry* entry : named.entries()) read_route(*entry, named.scope(), pairs);
  for (const auto& [route, pair] : pairs) {
    const auto other = resolve(*pair, routes_, "route", complaints_);
    if (other) built_.chain.routes[route].pair = *other;
  }
}

void InstallationReader::read_route(const Entry& entry, const Scope& scope,
                                    std::vector<std::pair<RouteId, const Node*>>& pairs) {
  Fields fields(&entry.value, entry.at, scope, complaints_);
  chain::Route route;
  RoutePlaces at{entry.at, entry.at, entry.at, entry.at, entry.at, entry.at};
  route.name = entry.key;
  if (const Node* node = fields.need("from", "the element where the signal starts")) {
    at.from = node->at;
    if (const auto conductor = read_conductor(*node)) route.from = *conductor;
  }
  if (const Node* node = fields.need("to", "the element where the signal comes out")) {
    at.to = node->at;
    if (const auto conductor = read_conductor(*node)) route.to = *conductor;
  }
  if (const Node* node = fields.find("selects")) {
    at.selects = node->at;
    route.selects = read_conductor(*node);
  }
  if (const Node* node = fields.need("signal", one_of(signals_.names))) {
    const auto signal = resolve(*node, signals_, "signal", complaints_);
    if (signal) route.signal = *signal;
  }
  if (const Node* node = fields.find("side")) {
    at.side = node->at;
    route.side = sentence(*node, complaints_);
    if (!route.side.empty() && route.side != "left" && route.side != "right") {
      complaints_.add(node->at, in_quotes(route.side) + " is no side", "left or right");
    }
  }
  const Node* pair = fields.find("pair");
  if (pair != nullptr) at.pair = pair->at;
  const RouteId id = built_.chain.routes.add(std::move(route));
  at_.routes.add(at);
  routes_.add(entry.key, id);
  if (pair != nullptr) pairs.emplace_back(id, pair);
}

Result<moves::Installation> installation_from(std::string_view text, const std::string& file,
                                              const faults::Rules& rules) {
  Complaints complaints(file);
  moves::Installation installation;
  if (const auto root = tree_from(text, complaints)) {
    InstallationReader reader(rules, complaints);
    installation = reader.read(*root);
    installation.rules = rules;
    reader.change(installation.rules);
    if (complaints.empty()) check_chain(installation, reader.places(), complaints);
  }
  if (!complaints.empty()) return tl::unexpected(complaints.sorted());
  return installation;
}

Result<RulesName> rules_named_in(std::string_view text, const std::string& file) {
  Complaints complaints(file);
  const auto root = tree_from(text, complaints);
  if (!root) return tl::unexpected(complaints.sorted());
  // Only the one key: whatever else is there is the business of installation_from.
  Node only;
  only.kind = root->kind;
  only.at = root->at;
  for (const Entry& entry : root->entries) {
    if (entry.key == "rules") only.entries.push_back(entry);
  }
  Complaints about_name(file);
  RulesName found;
  {
    Fields top(&only, only.at, {}, about_name);
    found.name = read_rules_name(top);
  }
  if (!only.entries.empty()) found.place = complaints.place(only.entries.front().value.at);
  if (about_name.empty()) return found;
  complaints.add(about_name.sorted());
  return tl::unexpected(complaints.sorted());
}

Result<std::string> rules_name_in(std::string_view text, const std::string& file) {
  return rules_named_in(text, file).map([](const RulesName& found) { return found.name; });
}

}  // namespace whichlink::load
