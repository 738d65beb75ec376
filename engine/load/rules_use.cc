#include "load/rules_reader.h"

namespace whichlink::load {
namespace {

constexpr Range kSessions{0, 10'000, "sessions a day, from 0 to 10000"};
constexpr Range kDaysOfYear{0, 366, "days a year, above 0 and at most 366", true};

}  // namespace

void read_use_numbers(Fields& fields, faults::Use& use) {
  use.sessions_per_day = fields.number_or("sessions a day", kSessions, use.sessions_per_day);
  use.days_per_year = fields.number_or("days a year", kDaysOfYear, use.days_per_year);
  use.spoilt_minutes = fields.number_or("spoilt session minutes", kMinutes, use.spoilt_minutes);
  if (!fields.scope().source.empty()) use.source = fields.scope().source;
}

void RulesReader::read_use(Fields& top) {
  const Node* node = top.find("use");
  if (node == nullptr) return;
  Fields fields(node, node->at, top.scope(), complaints_);
  faults::Use use;
  use.sessions_per_day = fields.number("sessions a day", kSessions);
  use.days_per_year = fields.number("days a year", kDaysOfYear);
  use.spoilt_minutes = fields.number("spoilt session minutes", kMinutes);
  use.source = fields.scope().source;
  use.share_of_sessions.resize(rules_.signals.size(), 1);
  const Named shares(fields.find("share of sessions"), fields.scope(), complaints_);
  Index<SignalId> signals;
  for (const SignalId signal : rules_.signals.ids()) {
    signals.add(rules_.signals[signal].name, signal);
  }
  for (const Entry* one : shares.entries()) {
    const auto signal = resolve(one->key, one->at, signals, "signal", complaints_);
    const double share = number(one->value, kChance, shares.scope(), complaints_);
    if (signal) use.share_of_sessions[*signal] = share;
  }
  use.noticed.resize(rules_.senses.size());
  for (const SenseId sense : rules_.senses.ids()) {
    use.noticed[sense].resize(rules_.senses[sense].severities(), 0);
  }
  const Named noticed(fields.need("noticed", "by sense, the chance that each symptom is noticed"),
                      fields.scope(), complaints_);
  for (const Entry* one : noticed.entries()) {
    const auto sense = resolve(one->key, one->at, senses_, "sense", complaints_);
    const Named symptoms(&one->value, noticed.scope(), complaints_);
    for (const Entry* symptom : symptoms.entries()) {
      const double chance = number(symptom->value, kChance, symptoms.scope(), complaints_);
      if (!sense) continue;
      const auto which =
          resolve(symptom->key, symptom->at, symptoms_[*sense], "symptom", complaints_);
      if (which) use.noticed[*sense][*which] = chance;
    }
  }
  rules_.use = std::move(use);
}

}  // namespace whichlink::load
