#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

/// Pages that a person can hold, as HTML. They are put together from pieces that are whole: what is
/// opened is closed, what is text is escaped, and a block never stands inside words.
namespace whichlink::sheets {

/// Words with their marks, as they stand in a paragraph, a heading or a cell. A text becomes words
/// as text: no `<` in it opens anything. Bytes that are no UTF-8, and characters that no page may
/// hold, become U+FFFD. A word of more than kLongWord characters may be broken anywhere.
/// Example: Words("a < b").markup() is "a &lt; b".
class Words {
 public:
  Words() = default;
  Words(
      const std::string& text);  // NOLINT(google-explicit-constructor): text is what most words are
  Words(const char* text) : Words(std::string(text)) {}
  Words& operator+=(const Words& more) {
    markup_ += more.markup_;
    return *this;
  }
  friend Words operator+(Words first, const Words& then) { return first += then; }
  [[nodiscard]] bool empty() const { return markup_.empty(); }
  [[nodiscard]] const std::string& markup() const { return markup_; }

 private:
  friend struct Maker;
  std::string markup_;
};
/// A word of more letters may be broken anywhere (judged: twenty fit the narrowest screen).
constexpr std::size_t kLongWord = 22;

/// Any number of paragraphs, lists, tables and boxes, one below the other.
class Block {
 public:
  Block() = default;
  Block& operator+=(const Block& more) {
    markup_ += more.markup_;
    return *this;
  }
  friend Block operator+(Block first, const Block& then) { return first += then; }
  [[nodiscard]] bool empty() const { return markup_.empty(); }
  [[nodiscard]] const std::string& markup() const { return markup_; }

 private:
  friend struct Maker;
  std::string markup_;
};

// Words. A look is a class of the style sheet (style.cc, or Page::style); empty: none.

[[nodiscard]] Words strong(const Words& words);
[[nodiscard]] Words marked(const std::string& look, const Words& words);
/// A name that people gave: kept apart, whichever way its script is written.
[[nodiscard]] Words name(const std::string& given);
/// Only for those who have the page read out.
[[nodiscard]] Words spoken(const std::string& text);
/// An empty square to tick by hand. @param what  what a tick says, for those who cannot see it
[[nodiscard]] Words tick_box(const std::string& what = "box to tick");
/// To another piece of the same page. @param anchor  its id
[[nodiscard]] Words link_to(const std::string& anchor, const Words& words);
/// The pieces with this between them.
[[nodiscard]] Words joined(const std::vector<Words>& pieces, const Words& between);

// Blocks.

[[nodiscard]] Block paragraph(const Words& words, const std::string& look = "");
/// A heading and what belongs to it. @param level  2 to 6, one deeper than that around it
/// @param anchor  its id, of letters, digits and dashes, unique on the page; empty: none
[[nodiscard]] Block section(int level, const Words& title, const Block& body,
                            const std::string& look = "", const std::string& anchor = "");
[[nodiscard]] Block box(const std::string& look, const Block& body);
/// Empty: nothing at all.
[[nodiscard]] Block list(const std::vector<Words>& items, const std::string& look = "");
[[nodiscard]] Block list(const std::vector<Block>& items, const std::string& look = "");
[[nodiscard]] Block numbered(const std::vector<Words>& items, const std::string& look = "");
[[nodiscard]] Block numbered(const std::vector<Block>& items, const std::string& look = "");
/// What is asked and what is answered, line by line.
[[nodiscard]] Block facts(const std::vector<std::pair<Words, Words>>& lines);
/// A line to write on, with what belongs there.
[[nodiscard]] Block blank(const Words& label);

/// Rows with a heading above each column. The first cell of a row names the row. Every row has as
/// many cells as there are heads. On a narrow screen a row becomes a small list of its own.
struct Table {
  Words caption;
  std::vector<Words> heads;
  std::vector<std::vector<Words>> rows;
  std::string look;
};
[[nodiscard]] Block table(const Table& table);

/// A picture of this program's own making, as it stands. @param svg  one whole <svg> element, its
/// texts escaped, without ids @param title  what it shows, in one sentence @param words  below it
/// @param look  "bars": no wider than its letters need
[[nodiscard]] Block picture(const std::string& svg, const std::string& title,
                            const Words& words = {}, const std::string& look = "");

/// What must be minded, in a box that is told by its words and its double line.
[[nodiscard]] Block cautions(const std::vector<std::string>& sentences,
                             const std::string& title = "Before anything else");

// Pages.

/// What stands around the pieces of a page.
struct Page {
  std::string title;  ///< the one heading of the first level: "Routine check"
  std::string about;  ///< above it: the installation's name
  std::string date;   ///< of the day, as 2026-11-26; the engine reads no clock
  std::string language = "en";
  std::string style;  ///< the sheet's own rules, after the common ones; no "</style"
};
/// A whole page that needs nothing else. Its foot, on paper on every sheet: the installation, the
/// page's title, the date, and the number of the sheet of paper. @param foot  before that, at the
/// end
[[nodiscard]] std::string page(const Page& page, const Block& body, const Block& foot = {});

/// The common rules, as CSS.
[[nodiscard]] const std::string& common_style();

}  // namespace whichlink::sheets
