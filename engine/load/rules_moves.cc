#include <numeric>

#include "load/rules_reader.h"

namespace whichlink::load {

std::string RulesReader::instruction(Fields& fields, const std::string& key) {
  const Node* node = fields.need(key, "a text");
  if (node == nullptr) return "";
  std::string text = sentence(*node, complaints_);
  std::string rest = text;
  for (std::size_t at = rest.find("{it}"); at != std::string::npos; at = rest.find("{it}")) {
    rest.erase(at, 4);
  }
  if (rest.find_first_of("{}") != std::string::npos) {
    complaints_.add(node->at, "braces that hold something other than `it`", "{it} or no braces");
  }
  return text;
}

std::vector<std::size_t> RulesReader::read_caution_list(Fields& fields) {
  return resolve_list(fields, "cautions", cautions_, "caution");
}

void RulesReader::read_cautions(Fields& top) {
  const Named named(top.find("cautions"), top.scope(), complaints_);
  for (const Entry* entry : named.entries()) {
    faults::Caution caution{entry->key, "", false};
    if (entry->value.kind == Kind::scalar) {
      caution.words = sentence(entry->value, complaints_);
    } else {
      Fields fields(&entry->value, entry->at, named.scope(), complaints_);
      caution.words = fields.text("words");
      caution.hurts = fields.yes("hurts");
    }
    cautions_.add(caution.name, rules_.cautions.size());
    rules_.cautions.push_back(std::move(caution));
  }
}

void RulesReader::read_stresses(Fields& top) {
  const Named named(top.find("stresses"), top.scope(), complaints_);
  for (const Entry* entry : named.entries()) {
    Fields fields(&entry->value, entry->at, named.scope(), complaints_);
    if (entry->key == "replug") {
      complaints_.add(entry->at, "`replug` is known already: a plug pulled and pushed in",
                      "another name for a stress");
    }
    faults::Stress stress;
    stress.name = entry->key;
    stress.short_words = instruction(fields, "short");
    stress.words = instruction(fields, "words");
    stress.minutes = fields.number("minutes", kMinutes);
    stress.false_alarm = read_false_alarm(fields.find("false alarm"), fields.scope());
    stress.cautions = read_caution_list(fields);
    stress.source = fields.scope().source;
    stresses_.add(entry->key, rules_.stresses.add(std::move(stress)));
  }
}

std::vector<double> RulesReader::read_false_alarm(const Node* node, const Scope& scope) {
  if (symptoms_.empty()) return {};
  const Symptoms& symptoms = symptoms_[SenseId{0}];
  std::vector<double> chances(symptoms.names.size(), 0);
  const std::size_t before = complaints_.count();
  const Named named(node, scope, complaints_);
  for (const Entry* entry : named.entries()) {
    const double chance = number(entry->value, kChance, named.scope(), complaints_);
    const auto severity =
        resolve(entry->key, entry->at, symptoms, "symptom in the first sense called", complaints_);
    if (!severity) continue;
    if (*severity == 0) {
      complaints_.add(entry->at, in_quotes(entry->key) + " is no alarm: it means nothing wrong",
                      "worse symptoms only; the rest is this one");
    } else {
      chances[*severity] = chance;
    }
  }
  const double sum = std::accumulate(chances.begin(), chances.end(), 0.0);
  if (sum > 1 + kSumTolerance && complaints_.count() == before) {
    complaints_.add(node->at, "the false alarms add up to more than 1", "at most 1");
  }
  if (!chances.empty()) chances.front() = sum < 1 ? 1 - sum : 0;
  return chances;
}

void RulesReader::read_remedies(Fields& top) {
  const Named named(top.find("remedies"), top.scope(), complaints_);
  for (const Entry* entry : named.entries()) {
    Fields fields(&entry->value, entry->at, named.scope(), complaints_);
    faults::Remedy remedy;
    remedy.name = entry->key;
    remedy.short_words = instruction(fields, "short");
    remedy.words = instruction(fields, "words");
    remedy.minutes = fields.number("minutes", kMinutes);
    remedy.whole_joint = fields.yes("whole joint");
    remedy.unplugs = fields.yes("unplugs");
    remedy.by_service = fields.yes("by service");
    remedy.uses = fields.texts("uses");
    remedy.needs_after = fields.texts("needs after");
    remedy.cautions = read_caution_list(fields);
    remedy.source = fields.scope().source;
    remedies_.add(entry->key, rules_.remedies.add(std::move(remedy)));
  }
}

}  // namespace whichlink::load
