#include <algorithm>

#include "load/load.h"
#include "load/reader.h"
#include "load/stores_ranges.h"

namespace whichlink::load {
namespace {

constexpr Range kPrice{0, 1e9, "a price, from 0 to 1000000000"};
constexpr Range kMoneyPerMinute{0, 1e6, "money above 0, at most 1000000", true};
constexpr Range kCount{0, 1'000'000, "a whole number from 0 to 1000000"};
constexpr Range kRooms{1, 100'000, "a whole number from 1 to 100000"};
constexpr std::size_t kMostSites = 2'000;

std::optional<double> number_if(Fields& fields, const std::string& key, const Range& range) {
  const Node* node = fields.find(key);
  if (node == nullptr) return std::nullopt;
  return number(*node, range, fields.scope(), fields.complaints());
}

std::optional<std::size_t> count_if(Fields& fields, const std::string& key, const Range& range) {
  const Node* node = fields.find(key);
  if (node == nullptr) return std::nullopt;
  return whole_number(fields, key, range, 0);
}

void read_money(Fields& top, stock::StoresFile& file) {
  const Node* node = top.find("money");
  if (node == nullptr) return;
  Fields fields(node, node->at, top.scope(), top.complaints());
  file.money = fields.text("name");
  file.money_per_minute = fields.number("a minute", kMoneyPerMinute);
}

void read_sites(Fields& top, stock::StoresFile& file) {
  const Node* node = top.find("sites");
  if (node == nullptr) return;
  Complaints& complaints = top.complaints();
  for (const Node& item : items(*node, complaints)) {
    if (file.sites.size() == kMostSites) {
      complaints.add(item.at, "too many sites", "at most " + std::to_string(kMostSites));
      return;
    }
    Fields fields(&item, item.at, top.scope(), complaints);
    stock::Site site;
    site.place = complaints.place(item.at);
    site.installation = fields.text("installation");
    site.rooms = whole_number(fields, "rooms", kRooms, 1);
    file.sites.push_back(std::move(site));
  }
}

void read_terms(Fields& top, stock::StoresFile& file) {
  const Named named(top.find("parts"), top.scope(), top.complaints());
  for (const Entry* entry : named.entries()) {
    Fields fields(&entry->value, entry->at, named.scope(), top.complaints());
    stock::SaidTerms terms;
    terms.name = entry->key;
    terms.place = top.complaints().place(entry->at);
    terms.price = number_if(fields, "price", kPrice);
    terms.lead_days = number_if(fields, "lead days", kLeadDays);
    terms.ready_days = number_if(fields, "ready days", kWaitDays);
    terms.shelf_days = number_if(fields, "shelf days", kWaitDays);
    terms.service = number_if(fields, "service", kService);
    terms.on_hand = count_if(fields, "on hand", kCount);
    terms.on_order = whole_number(fields, "on order", kCount, 0);
    terms.batch = count_if(fields, "order at least", kBatch);
    file.terms.push_back(std::move(terms));
  }
}

}  // namespace

Result<stock::StoresFile> stores_from(std::string_view text, const std::string& file) {
  Complaints complaints(file);
  stock::StoresFile stores;
  if (const auto root = tree_from(text, complaints)) {
    Fields top(&*root, root->at, Scope{}, complaints);
    stores.name = top.text("stores");
    stores.fetch_days = top.number_or("fetch days", kWaitDays, 0);
    read_money(top, stores);
    read_sites(top, stores);
    read_terms(top, stores);
  }
  if (!complaints.empty()) return tl::unexpected(complaints.sorted());
  return stores;
}

Result<stock::StoresFile> stores_file(const std::string& file) {
  const auto text = read_file(file);
  if (!text) return tl::unexpected(text.error());
  return stores_from(*text, file);
}

}  // namespace whichlink::load
