#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "load/complaints.h"

namespace whichlink::load {

enum class Kind {
  refused,  ///< already complained of: readers pass over it in silence
  nothing,  ///< no value after the colon, `~` or `null`
  scalar,
  sequence,
  mapping,
};

struct Entry;

/// One value of a file with its place. Mappings keep the order of the file.
struct Node {
  Kind kind = Kind::nothing;
  Here at;
  std::string text;    ///< scalars only
  bool plain = false;  ///< scalars only: written without quotes
  std::vector<Node> items;
  std::vector<Entry> entries;
};

struct Entry {
  std::string key;
  Here at;  ///< of the key
  Node value;
};

/// Limit on scalars, sequences and mappings in one file, so that no file of few bytes takes much
/// memory.
constexpr std::size_t kMostNodes = 300'000;

/// Limit on opening brackets anywhere in the text: the parser reads all of an outermost pair of
/// brackets before it says what is in it, at some microseconds and a hundred bytes a bracket.
constexpr std::size_t kMostBrackets = 50'000;

/// The only document of a text, as a tree. Complains of: bytes that are no UTF-8, control
/// characters, too many bytes, brackets or nodes, too deep a nesting, what YAML does not
/// allow, directives, tags, anchors, aliases, keys that are no names, repeated keys, an empty
/// document, more than one document.
/// @return the tree, which may come with complaints (the rest of it is still worth reading);
/// nothing
///         where there is no use in reading on, and then there is a complaint
[[nodiscard]] std::optional<Node> tree_from(std::string_view text, Complaints& complaints);

}  // namespace whichlink::load
