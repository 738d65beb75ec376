#include "load/rules_reader.h"
#include "load/stores_ranges.h"

namespace whichlink::load {
namespace {

constexpr Range kShareOfPrice{0, 10, "a share of the price a year, above 0 and at most 10", true};

}  // namespace

void RulesReader::read_spare_terms(Fields& fields, faults::Stores& stores) {
  stores.parts.resize(rules_.part_kinds.size(), {stores.lead_days, 0, stores.source});
  Index<PartKindId> kinds;
  for (const PartKindId kind : rules_.part_kinds.ids()) {
    kinds.add(rules_.part_kinds[kind].name, kind);
  }
  const Named named(fields.find("parts"), fields.scope(), complaints_);
  for (const Entry* entry : named.entries()) {
    const auto kind = resolve(entry->key, entry->at, kinds, "kind of part", complaints_);
    Fields one(&entry->value, entry->at, named.scope(), complaints_);
    const faults::SpareTerms terms{one.number_or("lead days", kLeadDays, stores.lead_days),
                                   one.number_or("ready days", kWaitDays, 0), one.scope().source};
    if (kind) stores.parts[*kind] = terms;
  }
}

void RulesReader::read_supplies(Fields& fields, faults::Stores& stores) {
  const Named named(fields.find("supplies"), fields.scope(), complaints_);
  for (const Entry* entry : named.entries()) {
    Fields one(&entry->value, entry->at, named.scope(), complaints_);
    faults::Supply supply;
    supply.name = entry->key;
    supply.price_minutes = one.number_or("price minutes", kMinutes, 0);
    supply.lead_days = one.number_or("lead days", kLeadDays, stores.lead_days);
    supply.batch = whole_number(one, "order at least", kBatch, 1);
    supply.shelf_days = one.number_or("shelf days", kWaitDays, 0);
    if (const Node* node = one.find("a session")) {
      supply.a_session = read_limits(node, one.scope());
    }
    supply.only_with = resolve_list(one, "only with", signals_, "signal");
    supply.source = one.scope().source;
    stores.supplies.push_back(std::move(supply));
  }
}

void RulesReader::read_goes_on(Fields& fields, faults::Stores& stores) {
  stores.goes_on.resize(rules_.signals.size(), 0);
  const Named goes_on(fields.find("goes on"), fields.scope(), complaints_);
  for (const Entry* one : goes_on.entries()) {
    const auto signal = resolve(one->key, one->at, signals_, "signal", complaints_);
    const double share = number(one->value, kChance, goes_on.scope(), complaints_);
    if (signal) stores.goes_on[*signal] = share;
  }
  stores.stands_in.resize(rules_.signals.size());
  const Named stands_in(fields.find("stands in"), fields.scope(), complaints_);
  for (const Entry* entry : stands_in.entries()) {
    const auto signal = resolve(entry->key, entry->at, signals_, "signal", complaints_);
    const Named others(&entry->value, stands_in.scope(), complaints_);
    for (const Entry* one : others.entries()) {
      const auto other = resolve(one->key, one->at, signals_, "signal", complaints_);
      const double share = number(one->value, kChance, others.scope(), complaints_);
      if (signal && other) stores.stands_in[*signal].emplace_back(*other, share);
    }
  }
}

void RulesReader::read_stores(Fields& top) {
  const Node* node = top.find("stores");
  if (node == nullptr) return;
  Fields fields(node, node->at, top.scope(), complaints_);
  faults::Stores stores;
  stores.lead_days = fields.number("lead days", kLeadDays);
  stores.held_share_per_year = fields.number("held a year", kShareOfPrice);
  stores.service = fields.number("service", kService);
  stores.source = fields.scope().source;
  read_spare_terms(fields, stores);
  read_supplies(fields, stores);
  read_goes_on(fields, stores);
  rules_.stores = std::move(stores);
}

}  // namespace whichlink::load
