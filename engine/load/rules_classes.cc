#include "load/rules_reader.h"

namespace whichlink::load {
namespace {

constexpr std::size_t kMostModes = 2'000;

const Index<faults::Role>& roles() {
  static const Index<faults::Role> kRoles = [] {
    Index<faults::Role> index;
    index.add("link", faults::Role::link);
    index.add("source", faults::Role::source);
    index.add("end", faults::Role::end);
    index.add("plug", faults::Role::plug);
    index.add("jack", faults::Role::jack);
    return index;
  }();
  return kRoles;
}

}  // namespace

void RulesReader::read_classes(Fields& top) {
  const Named named(top.need("classes", "at least one class of elements"), top.scope(),
                    complaints_);
  for (const Entry* entry : named.entries()) read_class(*entry, named.scope());
}

void RulesReader::read_class(const Entry& entry, const Scope& scope) {
  Fields fields(&entry.value, entry.at, scope, complaints_);
  faults::ElementClass element_class;
  element_class.name = entry.key;
  element_class.words = fields.text("words");
  if (const Node* node = fields.need("role", one_of(roles().names))) {
    const auto role = resolve(*node, roles(), "role", complaints_);
    if (role) element_class.role = *role;
  }
  read_connector(fields, element_class);
  element_class.stresses = resolve_list(fields, "stresses", stresses_, "stress");
  element_class.cautions = read_caution_list(fields);
  const ClassId id = rules_.classes.add(std::move(element_class));
  classes_.add(entry.key, id);

  const Named modes(fields.find("modes"), fields.scope(), complaints_);
  for (const Entry* mode : modes.entries()) {
    if (rules_.modes.size() == kMostModes) {
      complaints_.add(mode->at, "too many modes in all", "at most " + std::to_string(kMostModes));
      return;
    }
    read_mode(*mode, modes.scope(), id);
  }
}

void RulesReader::read_connector(Fields& fields, faults::ElementClass& element_class) {
  const bool mates =
      element_class.role == faults::Role::plug || element_class.role == faults::Role::jack;
  const Node* node = fields.find("connector");
  if (mates && node == nullptr) {
    complaints_.add(fields.at(), "a plug or jack without a connector", one_of(connectors_.names));
  } else if (!mates && node != nullptr) {
    complaints_.add(node->at, "a connector of something that is neither plug nor jack",
                    "`role: plug` or `role: jack`, or no connector");
  } else if (node != nullptr && resolve(*node, connectors_, "connector", complaints_)) {
    element_class.connector = node->text;
  }
}

faults::Rate RulesReader::read_rate(Fields& fields) {
  const Node* node = fields.need("rate", "{low: ..., mid: ..., high: ...} per year");
  return node == nullptr ? faults::Rate{} : read_limits(node, fields.scope());
}

faults::Rate RulesReader::read_limits(const Node* node, const Scope& scope) {
  faults::Rate rate;
  const std::size_t before = complaints_.count();
  Fields one(node, node->at, scope, complaints_);
  rate.low_per_year = one.number("low", kPerYear);
  rate.mid_per_year = one.number("mid", kPerYear);
  rate.high_per_year = one.number("high", kPerYear);
  rate.source = one.scope().source;
  const bool ascend =
      rate.low_per_year <= rate.mid_per_year && rate.mid_per_year <= rate.high_per_year;
  if (!ascend && complaints_.count() == before) {
    complaints_.add(node->at, "the limits of a rate are out of order", "low <= mid <= high");
  }
  return rate;
}

void RulesReader::read_mode(const Entry& entry, const Scope& scope, ClassId element_class) {
  Fields fields(&entry.value, entry.at, scope, complaints_);
  faults::Mode mode;
  mode.name = entry.key;
  mode.element_class = element_class;
  mode.words = instruction(fields, "words");
  mode.family = fields.text("family");
  mode.rate = read_rate(fields);
  if (const Node* node = fields.find("reach")) {
    Index<faults::Reach> reaches;
    reaches.add("lane", faults::Reach::lane);
    reaches.add("whole", faults::Reach::whole);
    const auto reach = resolve(*node, reaches, "reach", complaints_);
    if (reach) mode.reach = *reach;
  }
  mode.chance_shows = fields.number_or("shows", kChance, 1);
  read_stays(fields, mode);
  mode.symptom_chance =
      read_symptom_chances(fields.need("symptoms", "chances of symptoms by sense"), fields.scope());
  read_accidents(fields, mode);
  const Named remedies(fields.find("remedies"), fields.scope(), complaints_);
  for (const Entry* one : remedies.entries()) {
    const auto remedy = resolve(one->key, one->at, remedies_, "remedy", complaints_);
    const double chance = number(one->value, kChance, remedies.scope(), complaints_);
    if (remedy) mode.remedies[*remedy] = chance;
  }
  mode.source = fields.scope().source;
  rules_.modes.add(std::move(mode));
  rules_.classes[element_class].modes.push_back(
      ModeId{static_cast<std::uint32_t>(rules_.modes.size() - 1)});
}

void RulesReader::read_stays(Fields& fields, faults::Mode& mode) {
  const Node* node = fields.find("stays");
  if (node == nullptr) return;
  Fields one(node, node->at, fields.scope(), complaints_);
  mode.stays_left_alone = one.number_or("left alone", kChance, 1);
  mode.stays_disturbed = one.number_or("disturbed", kChance, 1);
}

void RulesReader::read_accidents(Fields& fields, faults::Mode& mode) {
  const Named provoked(fields.find("provoked by"), fields.scope(), complaints_);
  for (const Entry* one : provoked.entries()) {
    const auto stress = resolve(one->key, one->at, stresses_, "stress", complaints_);
    const double chance = number(one->value, kChance, provoked.scope(), complaints_);
    if (stress) mode.provoked_by[*stress] = chance;
  }
  const Named cured(fields.find("cured by chance"), fields.scope(), complaints_);
  for (const Entry* one : cured.entries()) {
    const double chance = number(one->value, kChance, cured.scope(), complaints_);
    if (one->key == "replug") {
      mode.cured_by_replug = chance;
      continue;
    }
    const auto stress = resolve(one->key, one->at, stresses_, "stress", complaints_);
    if (stress) mode.cured_by_stress[*stress] = chance;
  }
  mode.caused_by_replug = fields.number_or("caused by replug", kChance, 0);
}

}  // namespace whichlink::load
