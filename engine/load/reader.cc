#include "load/reader.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/utf8.h"
#include "load/decimal.h"

namespace whichlink::load {
namespace {

constexpr std::size_t kLongestName = 60;
constexpr std::size_t kLongestSentence = 1000;
/// Stands for a source that is wrong itself, so that its numbers are not complained of as well.
const char* const kComplainedOf = "complained of";

std::string shown(const Node& node) {
  switch (node.kind) {
    case Kind::scalar:
      return in_quotes(node.text);
    case Kind::sequence:
      return "a list";
    case Kind::mapping:
      return "a mapping";
    case Kind::nothing:
    case Kind::refused:
      break;
  }
  return "no value";
}

void complain_kind(const Node& node, const std::string& expected, Complaints& complaints) {
  if (node.kind != Kind::refused) complaints.add(node.at, shown(node), expected);
}

/// Complains of text that would break a line or a terminal.
bool is_one_line(const std::string& text, Here at, std::size_t longest, Complaints& complaints) {
  if (text.empty()) {
    complaints.add(at, "an empty text", "at least one character");
    return false;
  }
  std::size_t count = 0;
  for (std::size_t offset = 0; offset < text.size(); ++count) {
    const auto code = next_code_point(text, offset);
    if (!code || is_control(*code)) {
      complaints.add(
          at, code && *code == '\n' ? "a line break in a text" : "a control character in a text",
          "one line");
      return false;
    }
  }
  if (count > longest) {
    complaints.add(at, "a text of " + std::to_string(count) + " characters",
                   "at most " + std::to_string(longest));
    return false;
  }
  return true;
}

Scope scope_of(const Node& mapping, const Scope& outer, Complaints& complaints) {
  for (const Entry& entry : mapping.entries) {
    if (entry.key != "source") continue;
    if (entry.value.kind == Kind::scalar) {
      const std::string text = sentence(entry.value, complaints);
      return {text.empty() ? kComplainedOf : text};
    }
    complain_kind(entry.value,
                  "a text that says where the numbers come from (`source` names nothing)",
                  complaints);
    return {kComplainedOf};
  }
  return outer;
}

}  // namespace

bool name_is_good(const std::string& name, Here at, NameRule rule, Complaints& complaints) {
  if (!is_one_line(name, at, kLongestName, complaints)) return false;
  if (name.front() == ' ' || name.back() == ' ') {
    complaints.add(at, "the name " + in_quotes(name) + " begins or ends with a space",
                   "a name without");
    return false;
  }
  if (rule == NameRule::in_chain && name.find_first_of(".:") != std::string::npos) {
    complaints.add(at, "the name " + in_quotes(name) + " holds a full stop or a colon",
                   "none in the name of a part, piece or lane");
    return false;
  }
  return true;
}

std::string name(const Node& node, NameRule rule, Complaints& complaints) {
  if (node.kind != Kind::scalar) {
    complain_kind(node, "a name", complaints);
    return "";
  }
  return name_is_good(node.text, node.at, rule, complaints) ? node.text : "";
}

std::string sentence(const Node& node, Complaints& complaints) {
  if (node.kind != Kind::scalar) {
    complain_kind(node, "a text", complaints);
    return "";
  }
  // A block text (| or >) ends with the line break of its last line.
  std::string text = node.text;
  while (!node.plain && !text.empty() && text.back() == '\n') text.pop_back();
  return is_one_line(text, node.at, kLongestSentence, complaints) ? text : "";
}

double number(const Node& node, const Range& range, const Scope& scope, Complaints& complaints) {
  if (node.kind != Kind::scalar || !node.plain || node.text.empty()) {
    complain_kind(node, range.expected, complaints);
    return range.high;
  }
  const std::string& text = node.text;
  const char first = text.front();
  const bool plain = (first >= '0' && first <= '9') || first == '.' || first == '-';
  const std::optional<double> read = plain ? decimal_from(text) : std::nullopt;
  if (!read || !std::isfinite(*read)) {
    complaints.add(node.at, in_quotes(text) + " is no number", range.expected);
    return range.high;
  }
  const double value = *read;
  if (value < range.low || value > range.high || (range.above_low && value <= range.low)) {
    complaints.add(node.at, in_quotes(text) + " is out of range", range.expected);
    return range.high;
  }
  if (scope.source.empty()) {
    complaints.add(node.at, "the number " + in_quotes(text) + " has no source",
                   "a key `source` in this mapping or in one around it");
  }
  return value == 0 ? 0 : value;  // no negative zero
}

bool yes_or_no(const Node& node, Complaints& complaints) {
  const bool is_true = node.kind == Kind::scalar && node.plain && node.text == "true";
  const bool is_false = node.kind == Kind::scalar && node.plain && node.text == "false";
  if (!is_true && !is_false) complain_kind(node, "true or false", complaints);
  return is_true;
}

const std::vector<Node>& items(const Node& node, Complaints& complaints) {
  static const std::vector<Node> kNone;
  if (node.kind == Kind::nothing) return kNone;
  if (node.kind != Kind::sequence) {
    complain_kind(node, "a list: [one, another]", complaints);
    return kNone;
  }
  if (node.items.size() > kMostListed) {
    complaints.add(node.at, "a list of " + std::to_string(node.items.size()),
                   "at most " + std::to_string(kMostListed));
    return kNone;
  }
  return node.items;
}

const std::vector<Node>& some_items(const Node& node, std::size_t most, Complaints& complaints) {
  static const std::vector<Node> kNone;
  const std::size_t before = complaints.count();
  const std::vector<Node>& found = items(node, complaints);
  if (complaints.count() != before) return kNone;
  if (found.empty()) complaints.add(node.at, "an empty list", "at least one");
  if (found.size() <= most) return found;
  complaints.add(node.at, "a list of " + std::to_string(found.size()),
                 "at most " + std::to_string(most));
  return kNone;
}

Fields::Fields(const Node* node, Here at, const Scope& outer, Complaints& complaints)
    : at_(at), scope_(outer), complaints_(complaints) {
  if (node == nullptr) return;
  if (node->kind != Kind::mapping) {
    complain_kind(*node, "a mapping", complaints);
    return;
  }
  mapping_ = node;
  scope_ = scope_of(*node, outer, complaints);
}

Fields::~Fields() {
  if (mapping_ == nullptr) return;
  std::set<std::string> slips;
  for (const Entry& entry : mapping_->entries) {
    if (complaints_.full()) return;
    if (entry.key == "source") continue;
    if (std::find(asked_.begin(), asked_.end(), entry.key) != asked_.end()) continue;
    const std::string hint = nearest(entry.key, asked_);
    complaints_.add(entry.at, "unknown key " + in_quotes(entry.key), one_of(asked_), hint);
    slips.insert(hint);
  }
  for (const auto& [key, expected] : missing_) {
    if (slips.contains(key)) continue;
    complaints_.add(at_, "the key " + in_quotes(key) + " is missing", expected);
  }
}

const Node* Fields::find(const std::string& key) {
  if (std::find(asked_.begin(), asked_.end(), key) == asked_.end()) asked_.push_back(key);
  if (mapping_ == nullptr) return nullptr;
  for (const Entry& entry : mapping_->entries) {
    if (entry.key == key) return &entry.value;
  }
  return nullptr;
}

const Node* Fields::need(const std::string& key, const std::string& expected) {
  const Node* node = find(key);
  if (node == nullptr && mapping_ != nullptr) {
    missing_.emplace_back(key, expected);
    complaints_.foresee();
  }
  return node;
}

std::string Fields::text(const std::string& key) {
  const Node* node = need(key, "a text");
  return node == nullptr ? "" : sentence(*node, complaints_);
}

std::string Fields::text_or_empty(const std::string& key) {
  const Node* node = find(key);
  return node == nullptr ? "" : sentence(*node, complaints_);
}

double Fields::number(const std::string& key, const Range& range) {
  const Node* node = need(key, range.expected);
  return node == nullptr ? range.high : load::number(*node, range, scope_, complaints_);
}

double Fields::number_or(const std::string& key, const Range& range, double otherwise) {
  const Node* node = find(key);
  return node == nullptr ? otherwise : load::number(*node, range, scope_, complaints_);
}

std::size_t whole_number(Fields& fields, const std::string& key, const Range& range,
                         std::size_t otherwise) {
  const Node* node = fields.find(key);
  if (node == nullptr) return otherwise;
  const double given = number(*node, range, fields.scope(), fields.complaints());
  const auto whole = static_cast<std::size_t>(given);
  if (static_cast<double>(whole) != given) {
    fields.complaints().add(node->at, in_quotes(node->text) + " is no whole number",
                            range.expected);
  }
  return whole;
}

bool Fields::yes(const std::string& key) {
  const Node* node = find(key);
  return node != nullptr && yes_or_no(*node, complaints_);
}

std::vector<std::string> Fields::texts(const std::string& key) {
  std::vector<std::string> all;
  const Node* node = find(key);
  if (node == nullptr) return all;
  std::set<std::string> seen;
  for (const Node& item : items(*node, complaints_)) {
    const std::string text = sentence(item, complaints_);
    if (text.empty()) continue;
    if (seen.insert(text).second) {
      all.push_back(text);
    } else {
      complaints_.add(item.at, in_quotes(text) + " is listed twice", "it once");
    }
  }
  return all;
}

Named::Named(const Node* node, const Scope& outer, Complaints& complaints, NameRule rule,
             std::size_t most)
    : scope_(outer) {
  if (node == nullptr || node->kind == Kind::nothing) return;
  if (node->kind != Kind::mapping) {
    complain_kind(*node, "a mapping from names", complaints);
    return;
  }
  scope_ = scope_of(*node, outer, complaints);
  for (const Entry& entry : node->entries) {
    if (entry.key == "source") continue;
    if (entries_.size() == most) {
      complaints.add(entry.at, "too many names", "at most " + std::to_string(most));
      return;
    }
    if (name_is_good(entry.key, entry.at, rule, complaints)) entries_.push_back(&entry);
  }
}

void complain_unknown(const std::string& given, Here at, const std::string& kind,
                      const std::vector<std::string>& known, Complaints& complaints) {
  if (complaints.full()) return;
  complaints.add(at, "there is no " + kind + " " + in_quotes(given),
                 known.empty() ? "" : one_of(known), nearest(given, known));
}

}  // namespace whichlink::load
