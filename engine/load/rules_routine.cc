#include <algorithm>

#include "load/rules_reader.h"

namespace whichlink::load {
namespace {

constexpr std::size_t kMostLists = 20;
constexpr std::size_t kMostFrequencies = 50;

std::string plain(double value) {
  std::string text = std::to_string(value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

/// A sentence in which braces may only hold `one` or `other`.
std::string pair_words(Fields& fields, const std::string& key) {
  const Node* node = fields.need(key, "a text");
  if (node == nullptr) return "";
  std::string text = sentence(*node, fields.complaints());
  std::string rest = text;
  for (const std::string& braces : {std::string("{one}"), std::string("{other}")}) {
    for (std::size_t at = rest.find(braces); at != std::string::npos; at = rest.find(braces)) {
      rest.erase(at, braces.size());
    }
  }
  if (rest.find_first_of("{}") != std::string::npos) {
    fields.complaints().add(node->at, "braces that hold something other than `one` or `other`",
                            "{one}, {other} or no braces");
  }
  return text;
}

/// Complains of a frequency that is not above the one before.
void check_above(double hz, std::optional<double>& before, Here at, Complaints& complaints) {
  if (before && hz <= *before) {
    complaints.add(at, "a frequency that is not above " + plain(*before),
                   "frequencies that grow from one to the next");
  }
  before = hz;
}

}  // namespace

std::size_t RulesReader::read_list_name(Fields& fields) {
  const Node* node = fields.need("list", one_of(lists_.names));
  if (node == nullptr || lists_.names.empty()) return 0;  // that is complained of already
  return resolve(*node, lists_, "list", complaints_).value_or(0);
}

std::vector<double> RulesReader::read_frequencies(Fields& fields) {
  std::vector<double> all;
  const Node* node = fields.need("frequencies", "a list of frequencies in Hz");
  if (node == nullptr) return all;
  std::optional<double> before;
  for (const Node& item : some_items(*node, kMostFrequencies, complaints_)) {
    const std::size_t count = complaints_.count();
    const double hz = number(item, kHertz, fields.scope(), complaints_);
    if (complaints_.count() != count) continue;
    check_above(hz, before, item.at, complaints_);
    all.push_back(hz);
  }
  return all;
}

std::vector<faults::AtFrequency> RulesReader::read_at_frequencies(Fields& fields,
                                                                  const std::string& key,
                                                                  const Range& range) {
  std::vector<faults::AtFrequency> all;
  const Node* node = fields.need(key, "a list of [frequency in Hz, dB]");
  if (node == nullptr) return all;
  std::optional<double> before;
  for (const Node& item : some_items(*node, kMostFrequencies, complaints_)) {
    if (item.kind == Kind::refused) continue;
    if (item.kind != Kind::sequence || item.items.size() != 2) {
      complaints_.add(item.at, "something other than a frequency and its dB", "[1000, 7.5]");
      continue;
    }
    const std::size_t count = complaints_.count();
    faults::AtFrequency one;
    one.hz = number(item.items[0], kHertz, fields.scope(), complaints_);
    one.db = number(item.items[1], range, fields.scope(), complaints_);
    if (complaints_.count() != count) continue;
    check_above(one.hz, before, item.at, complaints_);
    all.push_back(one);
  }
  return all;
}

void RulesReader::read_lists(Fields& fields, faults::Routine& routine) {
  const Node* node = fields.need("lists", "at least one list");
  if (node == nullptr) return;
  const Named named(node, fields.scope(), complaints_, NameRule::any, kMostLists);
  if (named.entries().empty()) complaints_.add(node->at, "no lists", "at least one");
  for (const Entry* entry : named.entries()) {
    Fields one(&entry->value, entry->at, named.scope(), complaints_);
    faults::RoutineList list;
    list.name = entry->key;
    list.words = one.text("words");
    list.every_days = one.number("every days", kEveryDays);
    list.takes_in = resolve_list(one, "takes in", lists_, "list before this one");
    list.source = one.scope().source;
    lists_.add(entry->key, routine.lists.size());
    routine.lists.push_back(std::move(list));
  }
}

void RulesReader::read_items(Fields& fields, faults::Routine& routine) {
  const Named named(fields.find("items"), fields.scope(), complaints_);
  for (const Entry* entry : named.entries()) {
    Fields one(&entry->value, entry->at, named.scope(), complaints_);
    faults::RoutineItem item;
    item.name = entry->key;
    item.list = read_list_name(one);
    item.after = one.yes("after");
    item.words = one.text("words");
    item.asks = one.text("asks");
    item.if_not = one.text("if not");
    item.minutes = one.number("minutes", kMinutes);
    item.cautions = read_caution_list(one);
    item.source = one.scope().source;
    routine.items.push_back(std::move(item));
  }
}

void RulesReader::read_routine_signals(Fields& fields, faults::Routine& routine) {
  const Node* node = fields.need("signals", "how routes of at least one signal are checked");
  if (node == nullptr) return;
  const Named named(node, fields.scope(), complaints_);
  if (named.entries().empty()) complaints_.add(node->at, "no signals", "at least one");
  for (const Entry* entry : named.entries()) read_routine_signal(*entry, named.scope(), routine);
}

void RulesReader::read_routine_signal(const Entry& entry, const Scope& scope,
                                      faults::Routine& routine) {
  Fields fields(&entry.value, entry.at, scope, complaints_);
  faults::RoutineSignal one;
  const auto signal = resolve(entry.key, entry.at, signals_, "signal", complaints_);
  if (signal) one.signal = *signal;
  one.list = read_list_name(fields);
  one.minutes = fields.number("minutes", kMinutes);
  const Node* untouched = fields.find("untouched");
  if (untouched != nullptr) one.stressed = !yes_or_no(*untouched, complaints_);
  if (const Node* node = fields.find("pair")) {
    Fields pair(node, node->at, fields.scope(), complaints_);
    one.pair = faults::PairCheck{pair_words(pair, "words"), pair_words(pair, "expects")};
  }
  if (const Node* node = fields.find("sweep")) {
    Fields inner(node, node->at, fields.scope(), complaints_);
    faults::Sweep sweep;
    sweep.list = read_list_name(inner);
    sweep.words = inner.text("words");
    sweep.frequencies_hz = read_frequencies(inner);
    sweep.minutes = inner.number("minutes", kMinutes);
    sweep.source = inner.scope().source;
    one.sweep = std::move(sweep);
  }
  read_thresholds(fields, one);
  one.source = fields.scope().source;
  routine.signals.push_back(std::move(one));
}

// A threshold that has changed is a drop in dB: only a sense with levels can say so.
void RulesReader::read_thresholds(Fields& fields, faults::RoutineSignal& one) {
  const Node* node = fields.find("thresholds");
  if (node == nullptr) return;
  Fields inner(node, node->at, fields.scope(), complaints_);
  faults::Thresholds thresholds;
  thresholds.list = read_list_name(inner);
  thresholds.words = inner.text("words");
  thresholds.frequencies_hz = read_frequencies(inner);
  thresholds.minutes = inner.number("minutes", kMinutes);
  thresholds.source = inner.scope().source;
  one.thresholds = std::move(thresholds);
  if (!rules_.signals.holds(one.signal)) return;
  if (!rules_.senses.holds(rules_.signals[one.signal].sense)) return;
  const std::vector<faults::Symptom>& symptoms =
      rules_.senses[rules_.signals[one.signal].sense].symptoms;
  const bool has_levels =
      std::any_of(symptoms.begin(), symptoms.end(),
                  [](const faults::Symptom& symptom) { return symptom.drop_db.has_value(); });
  if (!has_levels) {
    complaints_.add(node->at, "thresholds for a sense without levels",
                    "a sense in which a symptom has a drop");
  }
}

void RulesReader::read_trip(const Node& node, const Scope& scope, faults::Routine& routine) {
  Fields fields(&node, node.at, scope, complaints_);
  faults::TripLevel trip;
  if (const Node* choices = fields.need("choices", "a list of dB")) {
    for (const Node& item : some_items(*choices, kMostFrequencies, complaints_)) {
      trip.choices_db.push_back(number(item, kDb, fields.scope(), complaints_));
    }
  }
  const Node* usual = fields.find("usual");
  const std::size_t before = complaints_.count();
  trip.usual_db = fields.number("usual", kDb);
  const bool chosen = std::find(trip.choices_db.begin(), trip.choices_db.end(), trip.usual_db) !=
                      trip.choices_db.end();
  if (usual != nullptr && !chosen && complaints_.count() == before && !trip.choices_db.empty()) {
    complaints_.add(usual->at, plain(trip.usual_db) + " is none of the choices", "one of them");
  }
  trip.step_db = fields.number("step", kDb);
  trip.because = fields.text("because");
  trip.source = fields.scope().source;
  routine.trip = std::move(trip);
}

void RulesReader::read_levels(Fields& fields, faults::Routine& routine) {
  const Named named(fields.find("levels"), fields.scope(), complaints_);
  for (const Entry* entry : named.entries()) {
    Fields one(&entry->value, entry->at, named.scope(), complaints_);
    faults::ReferenceLevels levels;
    levels.name = entry->key;
    if (const Node* node = one.need("signal", one_of(signals_.names))) {
      if (const auto signal = resolve(*node, signals_, "signal", complaints_)) {
        levels.signal = *signal;
      }
    }
    levels.coupler = one.text("coupler");
    levels.standard = one.text("standard");
    const Node* year = one.find("year");
    const double given = one.number("year", kYear);
    levels.year = static_cast<int>(given);
    if (year != nullptr && given != levels.year) {
      complaints_.add(year->at, plain(given) + " is no year", kYear.expected);
    }
    levels.dial_db = one.number("dial", kLevel);
    levels.unit = one.text("unit");
    const std::size_t before = complaints_.count();
    levels.reference = read_at_frequencies(one, "reference", kLevel);
    levels.within = read_at_frequencies(one, "within", kDb);
    levels.source = one.scope().source;
    const bool both =
        complaints_.count() == before && !levels.reference.empty() && !levels.within.empty();
    if (both && levels.reference.back().hz > levels.within.back().hz) {
      complaints_.add(entry->at,
                      "a reference at " + plain(levels.reference.back().hz) + " Hz without a limit",
                      "limits up to the highest frequency");
    }
    routine.levels.push_back(std::move(levels));
  }
}

void RulesReader::read_routine(Fields& top) {
  const Node* node = top.find("routine");
  if (node == nullptr) return;
  Fields fields(node, node->at, top.scope(), complaints_);
  faults::Routine routine;
  read_lists(fields, routine);
  read_items(fields, routine);
  read_routine_signals(fields, routine);
  read_levels(fields, routine);
  if (const Node* trip = fields.find("trip")) read_trip(*trip, fields.scope(), routine);
  routine.stress_minutes = fields.number("stress minutes", kMinutes);
  routine.if_failed = fields.texts("if failed");
  routine.source = fields.scope().source;
  const bool needs_trip =
      std::any_of(routine.signals.begin(), routine.signals.end(),
                  [](const faults::RoutineSignal& one) { return one.thresholds.has_value(); });
  if (needs_trip && !routine.trip) {
    complaints_.add(node->at, "thresholds without a trip level",
                    "trip: {choices: ..., usual: ..., step: ..., because: ...}");
  }
  rules_.routine = std::move(routine);
}

}  // namespace whichlink::load
