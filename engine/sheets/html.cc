#include "sheets/html.h"

#include <fmt/format.h>

#include <cassert>
#include <cctype>

namespace whichlink::sheets {

/// The only one that makes words and blocks from markup.
struct Maker {
  static Words words(std::string markup) {
    Words made;
    made.markup_ = std::move(markup);
    return made;
  }
  static Block block(std::string markup) {
    Block made;
    made.markup_ = std::move(markup);
    return made;
  }
};

namespace {

using Attributes = std::vector<std::pair<std::string, std::string>>;

const std::string kNoCharacter = "\xEF\xBF\xBD";  // U+FFFD

/// The character that begins at `at`, which moves on; U+FFFD for what no page may hold.
std::string next_character(const std::string& text, std::size_t& at) {
  const auto byte = [&](std::size_t index) { return static_cast<unsigned char>(text[index]); };
  const unsigned lead = byte(at);
  const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
  char32_t code = length == 1 ? lead : lead & (0xFFU >> (length + 1));
  bool whole = lead < 0x80 || (lead >= 0xC2 && lead < 0xF5);
  whole = whole && at + length <= text.size();
  for (std::size_t index = at + 1; whole && index < at + length; ++index) {
    whole = (byte(index) & 0xC0U) == 0x80U;
    code = (code << 6U) | (byte(index) & 0x3FU);
  }
  if (!whole) {
    ++at;
    return kNoCharacter;
  }
  std::string character = text.substr(at, length);
  at += length;
  const bool control =
      (code < 0x20 && code != '\n' && code != '\t') || (code >= 0x7F && code < 0xA0);
  const bool too_short = (length == 3 && code < 0x800) || (length == 4 && code < 0x10000);
  const bool surrogate = code >= 0xD800 && code < 0xE000;
  const bool no_character = (code >= 0xFDD0 && code < 0xFDF0) || (code & 0xFFFEU) == 0xFFFEU;
  const bool refused = control || too_short || surrogate || no_character || code > 0x10FFFF;
  return refused ? kNoCharacter : character;
}

std::string escaped(const std::string& character) {
  switch (character.front()) {
    case '&':
      return "&amp;";
    case '<':
      return "&lt;";
    case '>':
      return "&gt;";
    case '"':
      return "&quot;";
    default:
      return character;
  }
}

/// For attributes, and where no element may stand.
std::string plain(const std::string& text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) out += escaped(next_character(text, at));
  return out;
}

/// Words one by one, the long ones in an element that may be broken.
std::string with_long_words(const std::string& text) {
  std::string out;
  std::string word;
  std::size_t letters = 0;
  const auto put = [&] {
    out += letters > kLongWord ? "<span class=\"long\">" + word + "</span>" : word;
    word.clear();
    letters = 0;
  };
  for (std::size_t at = 0; at < text.size();) {
    const std::string character = next_character(text, at);
    if (character == " " || character == "\n" || character == "\t") {
      put();
      out += character;
    } else {
      word += escaped(character);
      ++letters;
    }
  }
  put();
  return out;
}

std::string element(const std::string& tag, const Attributes& attributes,
                    const std::string& markup) {
  std::string open = "<" + tag;
  for (const auto& [key, value] : attributes) {
    if (!value.empty()) open += fmt::format(" {}=\"{}\"", key, plain(value));
  }
  return fmt::format("{}>{}</{}>", open, markup, tag);
}

Block block_of(const std::string& tag, const Attributes& attributes, const std::string& markup) {
  return Maker::block(element(tag, attributes, markup) + "\n");
}

template <class Item>
Block items_in(const std::string& tag, const std::vector<Item>& items, const std::string& look) {
  if (items.empty()) return {};
  std::string inside = "\n";
  for (const Item& item : items) inside += element("li", {}, item.markup()) + "\n";
  return block_of(tag, {{"class", look}}, inside);
}

/// A string of CSS, for what a page's foot says.
std::string in_css(const std::string& text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::string character = next_character(text, at);
    const char first = character.front();
    const bool sign = character.size() == 1 &&
                      std::isalnum(static_cast<unsigned char>(first)) == 0 && first != ' ';
    out += sign ? fmt::format("\\{:x} ", static_cast<unsigned>(first)) : character;
  }
  return "\"" + out + "\"";
}

/// At most so many characters, for a line that must not grow.
std::string short_of(const std::string& text, std::size_t most) {
  std::string out;
  std::size_t count = 0;
  for (std::size_t at = 0; at < text.size(); ++count) {
    if (count == most) return out + "\xE2\x80\xA6";
    out += next_character(text, at);
  }
  return out;
}

std::string page_style(const Page& page) {
  constexpr std::size_t kMostInFoot = 60;
  const std::string left = short_of(page.about, kMostInFoot) + " \xC2\xB7 " + page.title;
  return common_style() +
         fmt::format(
             "@page{{@bottom-left{{content:{}}}@bottom-right{{content:{} counter(page) \" of \" "
             "counter(pages)}}}}\n",
             in_css(left), in_css(page.date + ", sheet ")) +
         page.style;
}

}  // namespace

Words::Words(const std::string& text) : markup_(with_long_words(text)) {}

Words strong(const Words& words) {
  return Maker::words(element("strong", {}, words.markup()));
}

Words marked(const std::string& look, const Words& words) {
  return Maker::words(element("span", {{"class", look}}, words.markup()));
}

Words name(const std::string& given) {
  return Maker::words(element("bdi", {}, Words(given).markup()));
}

Words spoken(const std::string& text) {
  return Maker::words(element("span", {{"class", "spoken"}}, plain(text)));
}

Words tick_box(const std::string& what) {
  return Maker::words(
      element("span", {{"class", "tick"}, {"role", "img"}, {"aria-label", what}}, ""));
}

Words link_to(const std::string& anchor, const Words& words) {
  return Maker::words(element("a", {{"href", "#" + anchor}}, words.markup()));
}

Words joined(const std::vector<Words>& pieces, const Words& between) {
  Words all;
  for (const Words& piece : pieces) {
    if (!all.empty()) all += between;
    all += piece;
  }
  return all;
}

Block paragraph(const Words& words, const std::string& look) {
  return block_of("p", {{"class", look}}, words.markup());
}

Block section(int level, const Words& title, const Block& body, const std::string& look,
              const std::string& anchor) {
  assert(level >= 2 && level <= 6);
  return block_of("section", {{"class", look}},
                  "\n" + element(fmt::format("h{}", level), {{"id", anchor}}, title.markup()) +
                      "\n" + body.markup());
}

Block box(const std::string& look, const Block& body) {
  return block_of("div", {{"class", look}}, body.markup());
}

Block list(const std::vector<Words>& items, const std::string& look) {
  return items_in("ul", items, look);
}
Block list(const std::vector<Block>& items, const std::string& look) {
  return items_in("ul", items, look);
}
Block numbered(const std::vector<Words>& items, const std::string& look) {
  return items_in("ol", items, look);
}
Block numbered(const std::vector<Block>& items, const std::string& look) {
  return items_in("ol", items, look);
}

Block facts(const std::vector<std::pair<Words, Words>>& lines) {
  std::string inside = "\n";
  for (const auto& [asked, answered] : lines) {
    inside += element("div", {},
                      element("dt", {}, asked.markup()) + element("dd", {}, answered.markup())) +
              "\n";
  }
  return lines.empty() ? Block() : block_of("dl", {}, inside);
}

Block blank(const Words& label) {
  return block_of("p", {{"class", "blank"}}, element("span", {}, label.markup()));
}

Block table(const Table& table) {
  std::string heads;
  for (const Words& head : table.heads) heads += element("th", {{"scope", "col"}}, head.markup());
  std::string rows = "\n";
  for (const std::vector<Words>& cells : table.rows) {
    assert(cells.size() == table.heads.size());
    std::string row;
    for (std::size_t column = 0; column < cells.size(); ++column) {
      // The head once more, shown where a narrow screen has no room for columns.
      const std::string head = element("span", {{"class", "head"}, {"aria-hidden", "true"}},
                                       table.heads[column].markup());
      const std::string cell = head + element("span", {}, cells[column].markup());
      row += column == 0 ? element("th", {{"scope", "row"}}, cell) : element("td", {}, cell);
    }
    rows += element("tr", {}, row) + "\n";
  }
  std::string inside;
  if (!table.caption.empty()) inside += element("caption", {}, table.caption.markup());
  inside += element("thead", {}, element("tr", {}, heads)) + "\n" + element("tbody", {}, rows);
  return block_of("table", {{"class", table.look}}, inside);
}

Block picture(const std::string& svg, const std::string& title, const Words& words,
              const std::string& look) {
  const std::string opening = "<svg";
  assert(svg.compare(0, opening.size(), opening) == 0);
  const std::string named = opening + fmt::format(R"( role="img" aria-label="{}")", plain(title)) +
                            svg.substr(opening.size());
  const std::string below = words.empty() ? "" : element("figcaption", {}, words.markup());
  return block_of("figure", {{"class", look}}, named + below);
}

Block cautions(const std::vector<std::string>& sentences, const std::string& title) {
  if (sentences.empty()) return {};
  std::vector<Words> items;
  items.reserve(sentences.size());
  for (const std::string& sentence : sentences) items.emplace_back(sentence);
  return section(2, title, list(items), "mind");
}

std::string page(const Page& page, const Block& body, const Block& foot) {
  const std::string head =
      "<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" +
      element("title", {}, plain(page.title + ": " + page.about)) + "\n" + "<style>\n" +
      page_style(page) + "</style>\n";
  const std::string top = element("p", {{"class", "about"}}, name(page.about).markup()) + "\n" +
                          element("h1", {}, Words(page.title).markup()) + "\n";
  const std::string last =
      foot.markup() +
      paragraph(name(page.about) + ". " + page.title + ", as of " + page.date + ".").markup();
  return "<!DOCTYPE html>\n" +
         element("html", {{"lang", page.language}},
                 "\n" + element("head", {}, "\n" + head) + "\n" +
                     element("body", {},
                             "\n" + element("header", {}, "\n" + top) + "\n" +
                                 element("main", {}, "\n" + body.markup()) + "\n" +
                                 element("footer", {}, "\n" + last) + "\n") +
                     "\n") +
         "\n";
}

}  // namespace whichlink::sheets
