#include "load/load.h"
#include "load/rules_reader.h"

namespace whichlink::load {
namespace {

void read_connectors(Fields& top, faults::Rules& rules, Index<std::size_t>& index) {
  rules.connectors = top.texts("connectors");
  for (std::size_t each = 0; each < rules.connectors.size(); ++each) {
    index.add(rules.connectors[each], each);
  }
}

}  // namespace

faults::Prices read_prices(const Node* node, const Scope& scope, Complaints& complaints) {
  faults::Prices prices;
  if (node == nullptr) return prices;
  Fields fields(node, node->at, scope, complaints);
  prices.miss_minutes = fields.number("miss minutes", kMinutes);
  prices.service_minutes = fields.number("service minutes", kMinutes);
  prices.source = fields.scope().source;
  return prices;
}

faults::Rules RulesReader::read(const Node& root) {
  Fields top(&root, root.at, {}, complaints_);
  rules_.trade = top.text("trade");
  rules_.about = top.text("about");
  read_cautions(top);
  rules_.always = resolve_list(top, "always", cautions_, "caution");
  read_connectors(top, rules_, connectors_);
  read_senses(top);
  if (const Node* node = top.find("meter")) {
    rules_.meter = resolve(*node, senses_, "sense", complaints_);
  }
  read_stresses(top);
  read_remedies(top);
  read_classes(top);
  read_parts(top);
  read_signals(top);
  read_spare_states(top);
  read_unlisted(top);
  read_crossed(top);
  rules_.prices = read_prices(top.need("prices", "the prices of a miss and of service"),
                              top.scope(), complaints_);
  read_handling(top);
  read_use(top);
  read_routine(top);
  read_stores(top);
  read_outlines(top);
  return std::move(rules_);
}

void RulesReader::read_signals(Fields& top) {
  const Named named(top.need("signals", "at least one signal"), top.scope(), complaints_);
  for (const Entry* entry : named.entries()) read_signal(*entry, named.scope());
}

void RulesReader::read_signal(const Entry& entry, const Scope& scope) {
  Fields fields(&entry.value, entry.at, scope, complaints_);
  faults::Signal signal;
  signal.name = entry.key;
  std::optional<SenseId> sense;
  if (const Node* node = fields.need("sense", one_of(senses_.names))) {
    sense = resolve(*node, senses_, "sense", complaints_);
  }
  if (sense) signal.sense = *sense;
  signal.words = fields.text("words");
  read_level(fields, signal);
  signal.minutes = fields.number("minutes", kMinutes);
  const Named words(fields.find("symptom words"), fields.scope(), complaints_);
  for (const Entry* one : words.entries()) {
    const std::string text = sentence(one->value, complaints_);
    if (!sense) continue;
    const auto& elsewhere = rules_.senses[*sense].elsewhere;
    const bool known = (elsewhere && elsewhere->name == one->key) ||
                       resolve(one->key, one->at, symptoms_[*sense], "symptom", complaints_);
    if (known) signal.symptom_words[one->key] = text;
  }
  signal.cautions = read_caution_list(fields);
  signal.source = fields.scope().source;
  signals_.add(entry.key, rules_.signals.add(std::move(signal)));
}

void RulesReader::read_level(Fields& fields, faults::Signal& signal) {
  const Node* node = fields.find("level");
  if (node == nullptr) {
    signal.level_unit = fields.text_or_empty("level unit");
    return;
  }
  signal.level_unit = fields.text("level unit");
  if (node->kind != Kind::mapping) {
    signal.level = number(*node, kLevel, fields.scope(), complaints_);
    return;
  }
  const std::size_t before = complaints_.count();
  Fields range(node, node->at, fields.scope(), complaints_);
  signal.level = range.number("from", kLevel);
  signal.level_high = range.number("to", kLevel);
  if (*signal.level > *signal.level_high && complaints_.count() == before) {
    complaints_.add(node->at, "a level that begins above its end", "from <= to");
  }
}

void RulesReader::read_spare_states(Fields& top) {
  const Named named(top.find("spare states"), top.scope(), complaints_);
  for (const Entry* entry : named.entries()) {
    Fields fields(&entry->value, entry->at, named.scope(), complaints_);
    const double chance = fields.number("chance bad", kChance);
    const bool is_spare = !fields.yes("no spare");
    rules_.spare_states.push_back({entry->key, chance, is_spare, fields.scope().source});
  }
}

void RulesReader::read_unlisted(Fields& top) {
  const Node* node = top.need("unlisted", "the rate and symptoms of a cause that is not listed");
  if (node == nullptr) return;
  Fields fields(node, node->at, top.scope(), complaints_);
  faults::Unlisted& unlisted = rules_.unlisted;
  unlisted.rate = read_rate(fields);
  unlisted.chance_shows = fields.number_or("shows", kChance, 1);
  unlisted.stays = fields.number_or("stays", kChance, 1);
  unlisted.symptom_chance =
      read_symptom_chances(fields.need("symptoms", "chances of symptoms by sense"), fields.scope());
  unlisted.source = fields.scope().source;
}

void RulesReader::read_crossed(Fields& top) {
  const Node* node = top.find("crossed");
  if (node == nullptr) return;
  Fields fields(node, node->at, top.scope(), complaints_);
  faults::Crossing crossing;
  crossing.words = fields.text("words");
  crossing.rate = read_rate(fields);
  if (const Node* inner = fields.need("trace", "{words: ..., minutes: ...}")) {
    Fields trace(inner, inner->at, fields.scope(), complaints_);
    crossing.trace_words = trace.text("words");
    crossing.trace_minutes = trace.number("minutes", kMinutes);
  }
  crossing.source = fields.scope().source;
  rules_.crossing = std::move(crossing);
}

void RulesReader::read_handling(Fields& top) {
  const Node* node = top.need("handling", "the minutes that handling takes");
  if (node == nullptr) return;
  Fields fields(node, node->at, top.scope(), complaints_);
  faults::Handling& handling = rules_.handling;
  handling.replug_minutes = fields.number("replug minutes", kMinutes);
  handling.alone_minutes = fields.number("alone minutes", kMinutes);
  handling.default_days_since_pass = fields.number("days since pass", kDays);
  if (rules_.meter) {
    handling.measure_minutes = fields.number("measure minutes", kMinutes);
    handling.measure_words = instruction(fields, "measure words");
  } else {
    handling.measure_minutes = fields.number_or("measure minutes", kMinutes, 0);
    handling.measure_words = fields.text_or_empty("measure words");
  }
  handling.source = fields.scope().source;
}

Result<faults::Rules> rules_from(std::string_view text, const std::string& file) {
  Complaints complaints(file);
  faults::Rules rules;
  if (const auto root = tree_from(text, complaints)) {
    rules = RulesReader(complaints).read(*root);
  }
  if (!complaints.empty()) return tl::unexpected(complaints.sorted());
  return rules;
}

}  // namespace whichlink::load
