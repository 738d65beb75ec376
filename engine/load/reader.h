#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "guide/case_file.h"
#include "load/complaints.h"
#include "load/placed_tree.h"

/// Typed reading of a placed tree. Every function complains where a value is not what it should be
/// and then goes on with a harmless stand-in: one complaint is enough for the whole file to be
/// refused.
namespace whichlink::load {

/// What covers the numbers at some place of a file: the nearest source, empty where there is none.
struct Scope {
  std::string source;
};

/// The numbers that are allowed, and how a complaint says so.
struct Range {
  double low = 0;
  double high = 0;
  const char* expected = "";
  bool above_low = false;  ///< `low` itself is not allowed
};
constexpr Range kChance{0, 1, "a chance from 0 to 1"};
constexpr Range kMinutes{0, 100'000, "minutes, from 0 to 100000"};
constexpr Range kPerYear{0, 1'000, "a rate per year, from 0 to 1000"};
constexpr Range kDays{0, 36'500, "days, from 0 to 36500"};
constexpr Range kDropDb{0, guide::kMostDropDb, "dB above 0, at most 120", true};
constexpr Range kSpreadDb{0, 60, "dB above 0, at most 60", true};
constexpr Range kHertz{0, 100'000, "a frequency in Hz above 0, at most 100000", true};
constexpr Range kDb{0, 120, "dB above 0, at most 120", true};
constexpr Range kYear{1900, 2200, "a year from 1900 to 2200"};
constexpr Range kEveryDays{0, 3'660, "days above 0, at most 3660", true};
constexpr Range kBatch{1, 100'000, "a whole number from 1 to 100000"};
constexpr Range kLevel{-10'000, 10'000, "a level from -10000 to 10000"};

/// Limits on how many things of one kind a file may name, so that tables over pairs of them
/// (symptoms, places, modes and senses) stay small whatever the file.
constexpr std::size_t kMostNames = 500;
constexpr std::size_t kMostListed = 5'000;

enum class NameRule {
  any,      ///< one line of 1 to 60 characters, no space at either end
  in_chain  ///< also no colon and no full stop: part, piece and lane
};

/// A name of the file's own choosing.
bool name_is_good(const std::string& name, Here at, NameRule rule, Complaints& complaints);
[[nodiscard]] std::string name(const Node& node, NameRule rule, Complaints& complaints);
/// One line of text, 1 to 1000 characters.
[[nodiscard]] std::string sentence(const Node& node, Complaints& complaints);
/// A finite number in plain decimals within the range, covered by a source.
[[nodiscard]] double number(const Node& node, const Range& range, const Scope& scope,
                            Complaints& complaints);
[[nodiscard]] bool yes_or_no(const Node& node, Complaints& complaints);
/// The items of a list; none for `nothing`.
[[nodiscard]] const std::vector<Node>& items(const Node& node, Complaints& complaints);
/// From one to so many items; a complaint and none where there are fewer or more.
[[nodiscard]] const std::vector<Node>& some_items(const Node& node, std::size_t most,
                                                  Complaints& complaints);

/// A mapping with known keys. When it goes, it complains of the keys that nobody asked for (every
/// key must be asked for, whether it is there or not) and of those that are missing.
class Fields {
 public:
  /// @param node  null where it is missing, which somebody else complained of
  /// @param at    where a missing key is complained of
  Fields(const Node* node, Here at, const Scope& outer, Complaints& complaints);
  Fields(const Fields&) = delete;
  Fields& operator=(const Fields&) = delete;
  ~Fields();

  /// @return null where the key is missing
  const Node* find(const std::string& key);
  /// Complains where the key is missing, with what was expected of it.
  const Node* need(const std::string& key, const std::string& expected);

  std::string text(const std::string& key);
  std::string text_or_empty(const std::string& key);
  double number(const std::string& key, const Range& range);
  double number_or(const std::string& key, const Range& range, double otherwise);
  bool yes(const std::string& key);  ///< false where it is missing
  std::vector<std::string> texts(const std::string& key);

  [[nodiscard]] const Scope& scope() const { return scope_; }
  [[nodiscard]] Here at() const { return at_; }
  [[nodiscard]] Complaints& complaints() const { return complaints_; }

 private:
  const Node* mapping_ = nullptr;
  Here at_;
  Scope scope_;
  Complaints& complaints_;
  std::vector<std::string> asked_;
  /// Needed keys that are not there, with what was expected of each. Complained of when the mapping
  /// goes, unless an unknown key is a slip of that name.
  std::vector<std::pair<std::string, std::string>> missing_;
};

/// A whole number within the range, or `otherwise` where the key is missing.
[[nodiscard]] std::size_t whole_number(Fields& fields, const std::string& key, const Range& range,
                                       std::size_t otherwise);

/// A mapping whose keys are names; the key `source` is none of them.
class Named {
 public:
  Named(const Node* node, const Scope& outer, Complaints& complaints, NameRule rule = NameRule::any,
        std::size_t most = kMostNames);
  [[nodiscard]] const std::vector<const Entry*>& entries() const { return entries_; }
  [[nodiscard]] const Scope& scope() const { return scope_; }

 private:
  std::vector<const Entry*> entries_;
  Scope scope_;
};

/// Ids by name, with the names in the order of the file for the hint.
template <class IdType>
struct Index {
  std::map<std::string, IdType> ids;
  std::vector<std::string> names;

  void add(const std::string& added, IdType id) {
    if (ids.emplace(added, id).second) names.push_back(added);
  }
  [[nodiscard]] std::optional<IdType> find(const std::string& sought) const {
    const auto found = ids.find(sought);
    if (found == ids.end()) return std::nullopt;
    return found->second;
  }
};

/// @param kind  "a stress": what the name should have named
void complain_unknown(const std::string& given, Here at, const std::string& kind,
                      const std::vector<std::string>& known, Complaints& complaints);

template <class IdType>
std::optional<IdType> resolve(const std::string& given, Here at, const Index<IdType>& index,
                              const std::string& kind, Complaints& complaints) {
  const auto id = index.find(given);
  if (!id) complain_unknown(given, at, kind, index.names, complaints);
  return id;
}

template <class IdType>
std::optional<IdType> resolve(const Node& node, const Index<IdType>& index, const std::string& kind,
                              Complaints& complaints) {
  const std::string given = sentence(node, complaints);
  if (given.empty()) return std::nullopt;
  return resolve(given, node.at, index, kind, complaints);
}

/// The ids of a list of names, each once; none where the key is missing.
template <class IdType>
std::vector<IdType> resolve_list(Fields& fields, const std::string& key, const Index<IdType>& index,
                                 const std::string& kind) {
  std::vector<IdType> found;
  std::map<IdType, bool> seen;
  const Node* node = fields.find(key);
  if (node == nullptr) return found;
  for (const Node& item : items(*node, fields.complaints())) {
    const auto id = resolve(item, index, kind, fields.complaints());
    if (!id) continue;
    if (seen.emplace(*id, true).second) {
      found.push_back(*id);
    } else {
      fields.complaints().add(item.at, in_quotes(item.text) + " is listed twice", "it once");
    }
  }
  return found;
}

}  // namespace whichlink::load
