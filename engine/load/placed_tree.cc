#include "load/placed_tree.h"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <exception>
#include <map>
#include <sstream>

#include "base/utf8.h"
#include "load/load.h"
#include "load/syntax_words.h"

namespace whichlink::load {
namespace {

/// Turns marks (bytes, from 0) into places (characters, from 1).
class Ruler {
 public:
  explicit Ruler(std::string_view text) : text_(text), line_starts_{0} {
    for (std::size_t offset = 0; offset < text.size(); ++offset) {
      if (text[offset] == '\n') line_starts_.push_back(offset + 1);
    }
  }
  /// Byte offset of a mark; the text's size where the mark lies behind it.
  [[nodiscard]] std::size_t offset(const YAML::Mark& mark) const {
    if (mark.line < 0 || mark.column < 0) return 0;
    const auto line = static_cast<std::size_t>(mark.line);
    if (line >= line_starts_.size()) return text_.size();
    return std::min(line_starts_[line] + static_cast<std::size_t>(mark.column), text_.size());
  }
  /// The byte at an offset; 0 behind the end.
  [[nodiscard]] char letter(std::size_t at) const { return at < text_.size() ? text_[at] : '\0'; }
  [[nodiscard]] char letter(const YAML::Mark& mark) const { return letter(offset(mark)); }
  /// False for quotes that begin at a mark and do not end.
  [[nodiscard]] bool quotes_close(const YAML::Mark& mark) const {
    const char quote = letter(mark);
    if (quote != '"' && quote != '\'') return true;
    for (std::size_t at = offset(mark) + 1; at < text_.size(); ++at) {
      if (quote == '"' && text_[at] == '\\') {
        ++at;
      } else if (text_[at] == quote) {
        if (quote == '"' || at + 1 == text_.size() || text_[at + 1] != quote) return true;
        ++at;
      }
    }
    return false;
  }
  /// Offset of the first byte of a mark's line that is no space.
  [[nodiscard]] std::size_t first_in_line(const YAML::Mark& mark) const {
    std::size_t at = offset(mark);
    while (at > 0 && text_[at - 1] != '\n') --at;
    while (at < text_.size() && text_[at] == ' ') ++at;
    return at;
  }
  Here here(const YAML::Mark& mark) {
    if (mark.line < 0 || mark.column < 0) return {};
    return here(std::min(static_cast<std::size_t>(mark.line), line_starts_.size() - 1),
                offset(mark));
  }
  Here here(std::size_t offset) {
    const auto after = std::upper_bound(line_starts_.begin(), line_starts_.end(), offset);
    return here(static_cast<std::size_t>(after - line_starts_.begin()) - 1, offset);
  }

 private:
  // Counts on (or back) from the place asked for last: marks mostly ascend, and counting each from
  // the start of a long line would take quadratic time.
  Here here(std::size_t line, std::size_t offset) {
    if (line != last_line_) last_line_ = line, last_offset_ = line_starts_[line], last_column_ = 0;
    const auto starts = [&](std::size_t at) {
      return (static_cast<unsigned char>(text_[at]) & 0xc0U) != 0x80 ? 1 : 0;
    };
    for (; last_offset_ < offset; ++last_offset_) last_column_ += starts(last_offset_);
    for (; last_offset_ > offset; --last_offset_) last_column_ -= starts(last_offset_ - 1);
    return {static_cast<int>(line) + 1, last_column_ + 1};
  }

  std::string_view text_;
  std::vector<std::size_t> line_starts_;
  std::size_t last_line_ = 0;
  std::size_t last_offset_ = 0;
  int last_column_ = 0;
};

/// Leaves the parser from within an event; the complaint is already made.
struct Stop : std::exception {};

/// Builds the tree from the parser's events.
class TreeBuilder : public YAML::EventHandler {
 public:
  TreeBuilder(Ruler& ruler, Complaints& complaints) : ruler_(ruler), complaints_(complaints) {}

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (++documents_ == 1) return;
    complaints_.add(ruler_.here(mark), "more after the end of the document",
                    "one document, with all keys of a mapping in the same column");
    throw Stop();
  }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    Node node = start(Kind::nothing, mark, "?", anchor);
    put(std::move(node));
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    Node node = start(Kind::refused, mark, "?", YAML::NullAnchor);
    complaints_.add(node.at, "an alias (*)", "the value itself");
    put(std::move(node));
  }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    Node node = start(Kind::scalar, mark, tag, anchor);
    node.text = value;
    node.plain = tag != "!";
    // The parser takes quotes that nothing closes for closed at the end of the file.
    if (!ruler_.quotes_close(mark)) {
      complaints_.add(node.at, "quotes that are not closed", "a closing quote");
      throw Stop();
    }
    put(std::move(node));
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(start(Kind::sequence, mark, tag, anchor));
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(start(Kind::mapping, mark, tag, anchor));
  }
  void OnMapEnd() override { close(); }

  /// Line of the innermost sequence or mapping that is still open; 0 for none.
  [[nodiscard]] int open_since(Kind kind) const {
    const auto found = std::find_if(open_.rbegin(), open_.rend(),
                                    [&](const Open& one) { return one.node.kind == kind; });
    return found == open_.rend() ? 0 : found->node.at.line;
  }

  std::optional<Node> root;

 private:
  /// A sequence or mapping that is not closed yet.
  struct Open {
    Node node;
    bool has_key = false;
    bool key_refused = false;
    std::string key;
    Here key_at;
    std::map<std::string, int> lines;  ///< of the keys so far
  };

  Node start(Kind kind, const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor) {
    Node node;
    node.kind = kind;
    node.at = ruler_.here(mark);
    if (++nodes_ > kMostNodes) {
      complaints_.add(node.at, "too many values in one file",
                      "at most " + std::to_string(kMostNodes));
      throw Stop();
    }
    // A quoted scalar has the tag "!", like one with a lone exclamation mark before it: look there.
    const char letter = ruler_.letter(mark);
    if (letter == '!' || (!tag.empty() && tag != "?" && tag != "!")) {
      complaints_.add(node.at, "a tag (!)", "the value alone");
    }
    if (letter == '&' || anchor != YAML::NullAnchor) {
      complaints_.add(node.at, "an anchor (&)", "the value alone");
    }
    return node;
  }
  void open(Node node) {
    if (open_.size() >= static_cast<std::size_t>(kDeepestNesting)) {
      complaints_.add(node.at, "nested too deep",
                      "at most " + std::to_string(kDeepestNesting) + " levels");
      throw Stop();
    }
    open_.emplace_back().node = std::move(node);
  }
  void close() {
    Node node = std::move(open_.back().node);
    open_.pop_back();
    put(std::move(node));
  }
  void put(Node node) {
    if (open_.empty()) {
      root = std::move(node);
      return;
    }
    Open& top = open_.back();
    if (top.node.kind == Kind::sequence) {
      top.node.items.push_back(std::move(node));
    } else if (!top.has_key) {
      top.has_key = true;
      take_key(top, std::move(node));
    } else {
      top.has_key = false;
      if (!top.key_refused) {
        if (node.kind == Kind::nothing) node.at = top.key_at;
        top.node.entries.push_back({std::move(top.key), top.key_at, std::move(node)});
      }
    }
  }
  void take_key(Open& top, Node node) {
    top.key_refused = true;
    if (node.kind == Kind::refused) return;
    if (node.kind != Kind::scalar) {
      complaints_.add(node.at,
                      node.kind == Kind::nothing ? "a key is missing" : "a key that is no text",
                      "a name before the colon");
      return;
    }
    const auto [first, is_new] = top.lines.emplace(node.text, node.at.line);
    if (!is_new) {
      complaints_.add(node.at, "the key " + in_quotes(node.text) + " is repeated",
                      "it once: it stands in line " + std::to_string(first->second) + " already");
      return;
    }
    top.key_refused = false;
    top.key = std::move(node.text);
    top.key_at = node.at;
  }

  Ruler& ruler_;
  Complaints& complaints_;
  std::vector<Open> open_;
  std::size_t nodes_ = 0;
  int documents_ = 0;
};

/// Complains of the first bytes that no file of ours may hold.
bool bytes_are_good(std::string_view text, Ruler& ruler, Complaints& complaints) {
  static const char* const kDigits = "0123456789abcdef";
  const auto hex = [](unsigned char byte) {
    return std::string("0x") + kDigits[byte >> 4U] + kDigits[byte & 15U];
  };
  std::size_t brackets = 0;
  for (std::size_t offset = 0; offset < text.size();) {
    const std::size_t start = offset;
    const auto code = next_code_point(text, offset);
    const auto byte = static_cast<unsigned char>(text[start]);
    if (!code) {
      complaints.add(ruler.here(start), "the byte " + hex(byte) + " is not UTF-8", "UTF-8 text");
      return false;
    }
    const bool line_break =
        *code == '\n' || (*code == '\r' && offset < text.size() && text[offset] == '\n');
    if (is_control(*code) && *code != '\t' && !line_break) {
      complaints.add(ruler.here(start),
                     "a control character (" + hex(static_cast<unsigned char>(*code)) + ")",
                     "letters, signs, spaces and line feeds");
      return false;
    }
    if ((*code == '[' || *code == '{') && ++brackets > kMostBrackets) {
      complaints.add(ruler.here(start), "too many brackets in one file",
                     "at most " + std::to_string(kMostBrackets));
      return false;
    }
  }
  return true;
}

/// Offset of a line that begins with %: a directive, or else a text of several lines in quotes,
/// where nobody needs one at the beginning. The parser passes over directives, even after the
/// document.
std::optional<std::size_t> directive(std::string_view text) {
  if (text.substr(0, 1) == "%") return 0;
  const std::size_t break_before = text.find("\n%");
  if (break_before == std::string_view::npos) return std::nullopt;
  return break_before + 1;
}

void complain_of_syntax(const YAML::Exception& error, const TreeBuilder& builder, Ruler& ruler,
                        Complaints& complaints) {
  const std::size_t first = ruler.first_in_line(error.mark);
  if (ruler.letter(first) == '\t') {
    complaints.add(ruler.here(first), "a tab in the indentation", "spaces");
    return;
  }
  SyntaxWords words = syntax_words(error.msg);
  const bool sequence = error.msg == YAML::ErrorMsg::END_OF_SEQ_FLOW;
  if (sequence || error.msg == YAML::ErrorMsg::END_OF_MAP_FLOW) {
    const int line = builder.open_since(sequence ? Kind::sequence : Kind::mapping);
    if (line > 0) words.what += ": it opened in line " + std::to_string(line);
  }
  const bool block =
      error.msg == YAML::ErrorMsg::END_OF_MAP || error.msg == YAML::ErrorMsg::END_OF_SEQ;
  if (block && first < ruler.offset(error.mark)) {
    words = {"more after the end of a value", "a new line, or quotes around the whole value"};
  }
  complaints.add(ruler.here(error.mark), words.what, words.expected);
}

}  // namespace

std::optional<Node> tree_from(std::string_view text, Complaints& complaints) {
  if (text.size() > kLargestFileBytes) {
    complaints.add({}, "the file is too large",
                   "at most " + std::to_string(kLargestFileBytes >> 20U) + " MB");
    return std::nullopt;
  }
  constexpr std::string_view kByteOrderMark = "\xef\xbb\xbf";
  if (text.substr(0, kByteOrderMark.size()) == kByteOrderMark) {
    text.remove_prefix(kByteOrderMark.size());
  }
  Ruler ruler(text);
  if (!bytes_are_good(text, ruler, complaints)) return std::nullopt;
  if (const auto at = directive(text)) {
    complaints.add(ruler.here(*at), "a directive (%)", "none: it would change nothing");
    return std::nullopt;
  }
  TreeBuilder builder(ruler, complaints);
  try {
    std::istringstream stream{std::string(text)};
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
  } catch (const Stop&) {
    return std::nullopt;
  } catch (const YAML::Exception& error) {
    complain_of_syntax(error, builder, ruler, complaints);
    return std::nullopt;
  } catch (const std::exception&) {
    complaints.add({}, "the file cannot be read as YAML", "YAML text");
    return std::nullopt;
  }
  if (!builder.root || builder.root->kind == Kind::nothing) {
    complaints.add({}, "the file is empty", "a mapping: lines of the form `key: value`");
    return std::nullopt;
  }
  return std::move(builder.root);
}

}  // namespace whichlink::load
