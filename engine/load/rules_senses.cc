#include <cmath>
#include <set>

#include "base/utf8.h"
#include "load/rules_reader.h"

namespace whichlink::load {
namespace {

constexpr std::size_t kMostSenses = 8;
constexpr std::size_t kMostSymptoms = 40;
constexpr std::size_t kMostListeners = 50;

std::string read_key(Fields& fields, Complaints& complaints) {
  const Node* node = fields.need("key", "the key that answers it, one character");
  if (node == nullptr) return "";
  std::string key = sentence(*node, complaints);
  if (key.empty()) return "";
  if (count_code_points(key) != 1 || key == " ") {
    complaints.add(node->at, in_quotes(key) + " is no key", "one character");
  } else if (kPromptKeys.find(key) != std::string_view::npos) {
    complaints.add(node->at, "the key " + in_quotes(key) + " is taken by the prompt itself",
                   "a character other than " + std::string(kPromptKeys));
  }
  return key;
}

/// The key's own node in a symptom's mapping, for complaints about two that are alike.
const Node* key_node(const Node& symptom) {
  for (const Entry& entry : symptom.entries) {
    if (entry.key == "key" && entry.value.kind == Kind::scalar) return &entry.value;
  }
  return nullptr;
}

std::string decimal(double value) {
  std::string text = std::to_string(value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

/// @param before  the drop of the last symptom that had one, which this one takes the place of
std::optional<double> read_drop(Fields& fields, std::optional<double>& before,
                                Complaints& complaints) {
  const Node* node = fields.find("drop db");
  if (node == nullptr) return std::nullopt;
  const std::size_t count = complaints.count();
  const double drop = number(*node, kDropDb, fields.scope(), complaints);
  if (complaints.count() != count) return std::nullopt;
  if (before && drop <= *before) {
    complaints.add(node->at, "a drop that is not above " + decimal(*before),
                   "drops that grow from one symptom to the next");
  }
  before = drop;
  return drop;
}

}  // namespace

void RulesReader::read_senses(Fields& top) {
  const Node* node = top.need("senses", "at least one sense");
  if (node == nullptr) return;
  const Named named(node, top.scope(), complaints_, NameRule::any, kMostSenses);
  if (named.entries().empty()) complaints_.add(node->at, "no senses", "at least one");
  for (const Entry* entry : named.entries()) read_sense(*entry, named.scope());
}

void RulesReader::read_sense(const Entry& entry, const Scope& scope) {
  Fields fields(&entry.value, entry.at, scope, complaints_);
  faults::Sense sense;
  Symptoms index;
  sense.name = entry.key;
  sense.source = fields.scope().source;
  sense.asks = fields.text("asks");
  read_symptoms(fields, sense, index);
  read_elsewhere(fields, sense, index);
  bool has_levels = false;
  for (const faults::Symptom& symptom : sense.symptoms) has_levels |= symptom.drop_db.has_value();
  const std::string spread = "level spread db";
  sense.level_spread_db = has_levels ? fields.number(spread, kSpreadDb)
                                     : fields.number_or(spread, kSpreadDb, sense.level_spread_db);
  if (const Node* node = fields.need("listeners", "at least one listener")) {
    const Named named(node, fields.scope(), complaints_, NameRule::any, kMostListeners);
    if (named.entries().empty()) complaints_.add(node->at, "no listeners", "at least one");
    for (const Entry* listener : named.entries()) {
      sense.listeners.push_back(read_listener(*listener, named.scope(), index));
    }
  }
  senses_.add(entry.key, rules_.senses.add(std::move(sense)));
  symptoms_.add(std::move(index));
}

void RulesReader::read_symptoms(Fields& fields, faults::Sense& sense, Symptoms& index) {
  const Node* node = fields.need("symptoms", "at least two symptoms, mildest first");
  if (node == nullptr) return;
  const Named named(node, fields.scope(), complaints_, NameRule::any, kMostSymptoms);
  std::optional<double> drop_before;
  for (const Entry* entry : named.entries()) {
    Fields one(&entry->value, entry->at, named.scope(), complaints_);
    faults::Symptom symptom{entry->key, one.text("words"), read_key(one, complaints_), {}};
    if (symptom.name == "not sure" || symptom.name == "cannot do") {
      complaints_.add(entry->at, in_quotes(symptom.name) + " is an answer of its own",
                      "another name for a symptom");
    }
    symptom.drop_db = read_drop(one, drop_before, complaints_);
    index.add(symptom.name, sense.symptoms.size());
    sense.symptoms.push_back(std::move(symptom));
  }
  if (named.entries().size() < 2) {
    complaints_.add(node->at, "too few symptoms", "at least two, the first for nothing wrong");
  }
}

void RulesReader::read_elsewhere(Fields& fields, faults::Sense& sense, const Symptoms& index) {
  const Node* node = fields.find("elsewhere");
  if (node != nullptr) {
    Fields one(node, node->at, fields.scope(), complaints_);
    faults::Symptom symptom;
    if (const Node* named = one.need("name", "a name")) {
      symptom.name = name(*named, NameRule::any, complaints_);
      if (index.find(symptom.name)) {
        complaints_.add(named->at, in_quotes(symptom.name) + " is a symptom already",
                        "another name");
      }
    }
    symptom.words = one.text("words");
    symptom.key = read_key(one, complaints_);
    sense.chance_elsewhere_noticed = one.number_or("noticed", kChance, 1);
    sense.elsewhere = std::move(symptom);
  }
  check_keys(fields.find("symptoms"), node);
}

void RulesReader::check_keys(const Node* symptoms, const Node* elsewhere) {
  std::vector<const Node*> keys;
  if (symptoms != nullptr) {
    for (const Entry& entry : symptoms->entries) keys.push_back(key_node(entry.value));
  }
  if (elsewhere != nullptr) keys.push_back(key_node(*elsewhere));
  std::set<std::string> seen;
  for (const Node* key : keys) {
    if (key == nullptr || seen.insert(key->text).second) continue;
    complaints_.add(key->at, "the key " + in_quotes(key->text) + " answers another symptom already",
                    "a key of its own");
  }
}

faults::Listener RulesReader::read_listener(const Entry& entry, const Scope& scope,
                                            const Symptoms& index) {
  Fields fields(&entry.value, entry.at, scope, complaints_);
  const std::size_t count = index.names.size();
  faults::Listener listener;
  listener.name = entry.key;
  listener.source = fields.scope().source;
  listener.report.assign(count, std::vector<double>(count, 0));
  for (std::size_t row = 0; row < count; ++row) listener.report[row][row] = 1;
  const Named rows(fields.find("mistakes"), fields.scope(), complaints_);
  for (const Entry* row : rows.entries()) {
    const auto truth = resolve(row->key, row->at, index, "symptom", complaints_);
    const std::size_t before = complaints_.count();
    const Named cells(&row->value, rows.scope(), complaints_);
    double sum = 0;
    for (const Entry* cell : cells.entries()) {
      const double chance = number(cell->value, kChance, cells.scope(), complaints_);
      const auto report = resolve(cell->key, cell->at, index, "symptom", complaints_);
      if (truth && report && *truth == *report) {
        complaints_.add(cell->at, "the right report among the mistakes",
                        "mistakes only: the rest is reported right");
      } else if (truth && report) {
        listener.report[*truth][*report] = chance;
      }
      sum += chance;
    }
    if (sum > 1 + kSumTolerance && complaints_.count() == before) {
      complaints_.add(row->at, "the mistakes add up to " + decimal(sum), "at most 1");
    }
    if (truth) listener.report[*truth][*truth] = sum < 1 ? 1 - sum : 0;
  }
  return listener;
}

std::vector<double> RulesReader::read_distribution(const Entry& entry, const Scope& scope,
                                                   const Symptoms& symptoms) {
  std::vector<double> chances(symptoms.names.size(), 0);
  const std::size_t before = complaints_.count();
  const Named named(&entry.value, scope, complaints_);
  double sum = 0;
  for (const Entry* one : named.entries()) {
    const double chance = number(one->value, kChance, named.scope(), complaints_);
    const auto severity = resolve(one->key, one->at, symptoms, "symptom", complaints_);
    if (severity) chances[*severity] = chance;
    sum += chance;
  }
  if (complaints_.count() != before) return chances;
  if (std::abs(sum - 1) > kSumTolerance) {
    complaints_.add(entry.at, "the chances add up to " + decimal(sum), "1");
  } else {
    for (double& chance : chances) chance /= sum;
  }
  return chances;
}

IdVector<SenseId, std::vector<double>> RulesReader::read_symptom_chances(const Node* node,
                                                                         const Scope& scope) {
  IdVector<SenseId, std::vector<double>> all;
  for (const Symptoms& symptoms : symptoms_) {
    std::vector<double> unnoticed(symptoms.names.size(), 0);
    if (!unnoticed.empty()) unnoticed.front() = 1;
    all.add(std::move(unnoticed));
  }
  if (node == nullptr) return all;
  const Named named(node, scope, complaints_);
  if (named.entries().empty()) {
    complaints_.add(node->at, "no symptoms", "the chances of its symptoms in at least one sense");
  }
  for (const Entry* entry : named.entries()) {
    const auto sense = resolve(entry->key, entry->at, senses_, "sense", complaints_);
    if (sense) all[*sense] = read_distribution(*entry, named.scope(), symptoms_[*sense]);
  }
  return all;
}

}  // namespace whichlink::load
