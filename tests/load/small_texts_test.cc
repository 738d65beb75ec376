#include <gtest/gtest.h>

#include "load/load.h"
#include "load/support.h"

// Small texts, each with what YAML or the library that reads it makes of it.
namespace whichlink::load {
namespace {

using namespace std::string_view_literals;

struct SmallText {
  std::string_view text;
  std::vector<std::string> lines;
};

const SmallText kSmallTexts[] = {
    {"a: b\n- c\n"sv,
     {"f:2:1: a line that does not belong to the mapping above; expected keys of one mapping in "
      "the same column, deeper ones further right"}},
    {"- c\na: b\n"sv,
     {"f:2:1: more after the end of the document; expected one document, with all keys of a "
      "mapping in the same column"}},
    {"complaint: {route: a, heard: b} junk\n"sv,
     {"f:1:33: more after the end of a value; expected a new line, or quotes around the whole "
      "value"}},
    {"complaint: {route: \"a\" b, heard: c}\n"sv,
     {"f:1:24: a { is not closed: it opened in line 1; expected a comma or }"}},
    {"complaint: {route: a heard: c}\n"sv,
     {"f:1:27: a { is not closed: it opened in line 1; expected a comma or }"}},
    {"complaint: {route: a, heard: c}}\n"sv,
     {"f:1:32: a } or ] that nothing opened; expected one closing bracket for each opened"}},
    {"complaint: {route: a, heard: c\n"sv,
     {"f:2:1: a { is not closed: it opened in line 1; expected a comma or }"}},
    {"complaint: {route: a, heard: c]\n"sv,
     {"f:1:31: a } or ] that nothing opened; expected one closing bracket for each opened"}},
    {"complaint: [route: a, heard: c]\n"sv, {"f:1:12: a list; expected a mapping"}},
    {"complaint: {route: a,, heard: c}\n"sv,
     {"f:1:22: a key is missing; expected a name before the colon"}},
    {"complaint: {, route: a, heard: c}\n"sv,
     {"f:1:13: a key is missing; expected a name before the colon"}},
    {"complaint: {route: a, heard: c,}\n"sv, {}},
    {"complaint: {\"route\":a, heard: c}\n"sv, {}},
    {"complaint:\n  route: a\n  heard: c\n done:\n"sv,
     {"f:4:2: a line that does not belong to the mapping above; expected keys of one mapping in "
      "the same column, deeper ones further right"}},
    {"complaint:\n  route: a\n heard: c\n"sv,
     {"f:3:2: a line that does not belong to the mapping above; expected keys of one mapping in "
      "the same column, deeper ones further right"}},
    {"complaint:\n   route: a\n  heard: c\n"sv,
     {"f:3:3: a line that does not belong to the mapping above; expected keys of one mapping in "
      "the same column, deeper ones further right"}},
    {"complaint: {route: a, heard: c}\ndone:\n  - {move: x, heard: y}\n - {move: z, heard: y}\n"sv,
     {"f:4:2: a line that does not belong to the mapping above; expected keys of one mapping in "
      "the same column, deeper ones further right"}},
    {"complaint: {route: a, heard: c}\ndone:\n- {move: x, heard: y}\n"sv, {}},
    {"complaint: {route: a, heard: c}\n? done\n: - {move: x, heard: y}\n"sv, {}},
    {"complaint: {route: a, heard: c} # fine\n...\n"sv, {}},
    {"complaint: {route: a, heard: c}\n...\nmore: 1\n"sv,
     {"f:3:1: more after the end of the document; expected one document, with all keys of a "
      "mapping in the same column"}},
    {"---\ncomplaint: {route: a, heard: c}\n"sv, {}},
    {"--- {complaint: {route: a, heard: c}}\n"sv, {}},
    {"complaint: {route: a, heard: c}\n---\n"sv,
     {"f:2:1: more after the end of the document; expected one document, with all keys of a "
      "mapping in the same column"}},
    {"complaint: {route: a, heard: |\n b}\n"sv,
     {"f:1:30: a character that no value may start with; expected quotes around the value"}},
    {"complaint: {route: a, heard: c#d}\n"sv, {}},
    {"complaint: {route: a#b, heard: 'it''s'}\n"sv, {}},
    {"complaint: {route: a, heard: 'it\n"sv,
     {"f:1:30: quotes that are not closed; expected a closing quote"}},
    {"complaint: {route: a, heard: c}x\n"sv,
     {"f:1:32: more after the end of a value; expected a new line, or quotes around the whole "
      "value"}},
    {"complaint: {route: a, heard: \"c\"x}\n"sv,
     {"f:1:33: a { is not closed: it opened in line 1; expected a comma or }"}},
    {"model: \"m\" n\ncomplaint: {route: a, heard: c}\n"sv,
     {"f:1:12: more after the end of a value; expected a new line, or quotes around the whole "
      "value"}},
    {"model: >\n  m\n  n\ncomplaint: {route: a, heard: c}\n"sv, {}},
    {"model: |\n  m\n  n\ncomplaint: {route: a, heard: c}\n"sv,
     {"f:1:8: a line break in a text; expected one line"}},
    {"model: m\n  n\ncomplaint: {route: a, heard: c}\n"sv, {}},
    {"model: m: n\ncomplaint: {route: a, heard: c}\n"sv,
     {"f:1:9: a colon where no value can stand; expected one `key: value` a line, quotes around "
      "text that holds a colon"}},
    {"model: [m\ncomplaint: {route: a, heard: c}\n"sv,
     {"f:2:10: a [ is not closed: it opened in line 1; expected a comma or ]"}},
    {""sv, {"f:1:1: the file is empty; expected a mapping: lines of the form `key: value`"}},
    {"\n"sv, {"f:1:1: the file is empty; expected a mapping: lines of the form `key: value`"}},
    {"# only\n"sv,
     {"f:1:1: the file is empty; expected a mapping: lines of the form `key: value`"}},
    {"---\n"sv, {"f:1:1: the file is empty; expected a mapping: lines of the form `key: value`"}},
    {"null\n"sv, {"f:1:1: the file is empty; expected a mapping: lines of the form `key: value`"}},
    {"~\n"sv, {"f:1:1: the file is empty; expected a mapping: lines of the form `key: value`"}},
    {"a\n"sv, {"f:1:1: \"a\"; expected a mapping"}},
    {"[]\n"sv, {"f:1:1: a list; expected a mapping"}},
    {"{}\n"sv, {"f:1:1: the key \"complaint\" is missing; expected {route: ..., heard: ...}"}},
    {"\xef\xbb\xbf"
     "x"sv,
     {"f:1:1: \"x\"; expected a mapping"}},
    {"a: b: c\n"sv,
     {"f:1:5: a colon where no value can stand; expected one `key: value` a line, quotes around "
      "text that holds a colon"}},
    {"complaint: {route: a, heard: *x}\n"sv, {"f:1:30: an alias (*); expected the value itself"}},
    {"complaint: {route: &x a, heard: b}\n"sv, {"f:1:20: an anchor (&); expected the value alone"}},
    {"complaint: {<<: {route: a}, heard: b}\n"sv,
     {"f:1:12: the key \"route\" is missing; expected the name of a route",
      "f:1:13: unknown key \"<<\"; expected route, heard, drop db or days since pass"}},
    {"complaint: {route: a, heard: c}\n\x09"
     "done: x\n"sv,
     {"f:2:1: a tab in the indentation; expected spaces"}},
    {"complaint:\n\x09"
     "route: a\n"sv,
     {"f:2:1: a tab in the indentation; expected spaces"}},
    {"  complaint: {route: a, heard: c}\n"sv, {}},
    {"complaint:{route: a}\n"sv,
     {"f:1:1: the key \"complaint\" is missing; expected {route: ..., heard: ...}",
      "f:1:1: unknown key \"complaint:{route\"; expected model, listener, aim, complaint or done"}},
    {"\"complaint\": {route: a, heard: c}\x0d"
     "\n"sv,
     {}},
    {"complaint: !x {route: a, heard: c}\n"sv, {"f:1:12: a tag (!); expected the value alone"}},
    {"!<tag:x> complaint: {route: a, heard: c}\n"sv,
     {"f:1:1: a tag (!); expected the value alone"}},
    {"complaint: {route: a, heard: !!str}\n"sv,
     {"f:1:30: a tag (!); expected the value alone",
      "f:1:30: an empty text; expected at least one character"}},
    {"complaint: {route: a, heard: &z}\n"sv,
     {"f:1:23: no value; expected a text", "f:1:30: an anchor (&); expected the value alone"}},
    {"complaint: {&k route: a, heard: b}\n"sv, {"f:1:13: an anchor (&); expected the value alone"}},
    {"%TAG ! x\n---\ncomplaint: {route: a, heard: b}\n"sv,
     {"f:1:1: a directive (%); expected none: it would change nothing"}},
    {"# c\n%FOO\ncomplaint: {route: a, heard: b}\n"sv,
     {"f:2:1: a directive (%); expected none: it would change nothing"}},
    {"complaint: {route: a, heard: b}\n%FOO\n"sv,
     {"f:2:1: a directive (%); expected none: it would change nothing"}},
    {"complaint: {route: a, heard: b}\n...\n%FOO\n"sv,
     {"f:3:1: a directive (%); expected none: it would change nothing"}},
    {"? ? ? a\n"sv,
     {"f:1:1: the key \"complaint\" is missing; expected {route: ..., heard: ...}",
      "f:1:3: a key that is no text; expected a name before the colon",
      "f:1:5: a key that is no text; expected a name before the colon"}},
    {"a: \"\\"sv,
     {"f:1:6: an unknown escape in double quotes; expected two backslashes for a backslash, or "
      "single quotes"}},
    {"a: \"\\x"sv,
     {"f:1:7: an escape in double quotes that is no number; expected hexadecimal digits"}},
    {"a: \"\\xZZ\""sv,
     {"f:1:9: an escape in double quotes that is no number; expected hexadecimal digits"}},
    {"a: \"\\ud800\""sv,
     {"f:1:11: an escape in double quotes that is no character; expected a Unicode character"}},
    {"a: \"\\U00110000\""sv,
     {"f:1:15: an escape in double quotes that is no character; expected a Unicode character"}},
    {"complaint: {route: @a, heard: b}\n"sv,
     {"f:1:20: a character that no value may start with; expected quotes around the value"}},
    {"complaint: {route: `a, heard: b}\n"sv,
     {"f:1:20: a character that no value may start with; expected quotes around the value"}},
    {"complaint: {route: a, heard: |0\n b}\n"sv,
     {"f:1:30: a character that no value may start with; expected quotes around the value"}},
    {"model: |0\n b\n"sv, {"f:1:10: a 0 after | or >; expected a line break"}},
    {"model: |x\n b\n"sv, {"f:1:9: a character that cannot follow | or >; expected a line break"}},
    {"*a"sv, {"f:1:1: an alias (*); expected the value itself"}},
    {"&a"sv,
     {"f:1:1: an anchor (&); expected the value alone",
      "f:1:1: the file is empty; expected a mapping: lines of the form `key: value`"}},
    {"!"sv,
     {"f:1:1: a tag (!); expected the value alone",
      "f:1:1: the file is empty; expected a mapping: lines of the form `key: value`"}},
    {"model: {route: a, heard: c"sv,
     {"f:1:1: a { is not closed: it opened in line 1; expected a comma or }"}},
    {"}"sv, {"f:1:1: a } or ] that nothing opened; expected one closing bracket for each opened"}},
    {"]"sv, {"f:1:1: a } or ] that nothing opened; expected one closing bracket for each opened"}},
    {":"sv,
     {"f:1:1: a key is missing; expected a name before the colon",
      "f:1:1: the key \"complaint\" is missing; expected {route: ..., heard: ...}"}},
    {"-"sv, {"f:1:1: a list; expected a mapping"}},
    {"?"sv, {"f:1:1: a character that no value may start with; expected quotes around the value"}},
    {","sv,
     {"f:1:1: more after the end of the document; expected one document, with all keys of a "
      "mapping in the same column"}},
    {"\""sv, {"f:1:1: quotes that are not closed; expected a closing quote"}},
    {"'"sv, {"f:1:1: quotes that are not closed; expected a closing quote"}},
    {"|"sv, {"f:1:1: \"\"; expected a mapping"}},
    {">"sv, {"f:1:1: \"\"; expected a mapping"}},
    {"@"sv, {"f:1:1: a character that no value may start with; expected quotes around the value"}},
    {"`"sv, {"f:1:1: a character that no value may start with; expected quotes around the value"}},
    {"&"sv, {"f:1:2: an anchor (&); expected the value alone"}},
    {"*"sv, {"f:1:2: an alias (*); expected the value itself"}},
};

TEST(SmallTexts, BringExactlyTheseComplaints) {
  for (const SmallText& small : kSmallTexts) {
    EXPECT_EQ(lines(case_from(small.text, "f")), small.lines) << small.text;
  }
}

}  // namespace
}  // namespace whichlink::load
