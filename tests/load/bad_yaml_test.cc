#include <gtest/gtest.h>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using namespace std::string_view_literals;

// What the reading of YAML refuses, whatever the keys.
const Slip kBadYaml[] = {
    {"ARepeatedKey",
     "  new: {chance bad: .005, source: judged}"sv,
     "  new: {chance bad: .005, source: judged}\n  new: {chance bad: .5, source: judged}"sv,
     {"f:141:3: the key \"new\" is repeated; expected it once: it stands in line 140 already"}},
    {"AKeyThatIsAList",
     "  new: {chance bad: .005, source: judged}"sv,
     "  [new, old]: {chance bad: .005, source: judged}"sv,
     {"f:140:3: a key that is no text; expected a name before the colon"}},
    {"AnAnchor",
     "prices: {miss"sv,
     "prices: &dear {miss"sv,
     {"f:155:9: an anchor (&); expected the value alone"}},
    {"AnAlias",
     "cautions: [label it]\n    modes"sv,
     "cautions: *dear\n    modes"sv,
     {"f:85:15: an alias (*); expected the value itself"}},
    {"AnAliasThatHasItsAnchor",
     "cautions:\n  low voltage: {words: \"Work on"sv,
     "cautions: &all\n  more: *all\n  low voltage: {words: \"Work on"sv,
     {"f:5:11: an anchor (&); expected the value alone",
      "f:6:9: an alias (*); expected the value itself"}},
    {"ATag",
     "trade: doorbells"sv,
     "trade: !!str doorbells"sv,
     {"f:2:8: a tag (!); expected the value alone"}},
    {"ALoneExclamationMark",
     "trade: doorbells"sv,
     "trade: ! doorbells"sv,
     {"f:2:8: a tag (!); expected the value alone"}},
    {"ASecondDocument",
     "# Invented"sv,
     "---\na: 1\n---\n# Invented"sv,
     {"f:3:1: more after the end of the document; expected one document, with all keys of a "
      "mapping in the same column"}},
    {"ADirective",
     "# Invented"sv,
     "%YAML 1.2\n---\n# Invented"sv,
     {"f:1:1: a directive (%); expected none: it would change nothing"}},
    {"ATabInTheIndentation",
     "    asks: What does the bell"sv,
     "\x09"
     "asks: What does the bell"sv,
     {"f:14:1: a tab in the indentation; expected spaces"}},
    {"ABracketThatIsNotClosed",
     "always: [low voltage]"sv,
     "always: [low voltage"sv,
     {"f:10:11: a [ is not closed: it opened in line 8; expected a comma or ]"}},
    {"ABraceThatIsNotClosed",
     "prices: {miss minutes: 60, service minutes: 45, source: judged}"sv,
     "prices: {miss minutes: 60"sv,
     {"f:157:9: a { is not closed: it opened in line 155; expected a comma or }"}},
    {"AClosingBracketTooMany",
     "always: [low voltage]"sv,
     "always: [low voltage]]"sv,
     {"f:8:22: a } or ] that nothing opened; expected one closing bracket for each opened"}},
    {"AColonInBareText",
     "about: A button, wires and a bell."sv,
     "about: A button: wires and a bell."sv,
     {"f:3:16: a colon where no value can stand; expected one `key: value` a line, quotes around "
      "text that holds a colon"}},
    {"ABadEscape",
     "trade: doorbells"sv,
     "trade: \"door\\qbells\""sv,
     {"f:2:15: an unknown escape in double quotes; expected two backslashes for a backslash, or "
      "single quotes"}},
    {"ALineThatBelongsNowhere",
     "meter: meter"sv,
     " meter: meter"sv,
     {"f:36:2: a line that does not belong to the mapping above; expected keys of one mapping in "
      "the same column, deeper ones further right"}},
    {"ABareAtSign",
     "trade: doorbells"sv,
     "trade: @doorbells"sv,
     {"f:2:8: a character that no value may start with; expected quotes around the value"}},
    {"BytesThatAreNoUtf8",
     "trade: doorbells"sv,
     "trade: door\xff"
     "bells"sv,
     {"f:2:12: the byte 0xff is not UTF-8; expected UTF-8 text"}},
    {"ANullByte",
     "trade: doorbells"sv,
     "trade: door\x00"
     "bells"sv,
     {"f:2:12: a control character (0x00); expected letters, signs, spaces and line feeds"}},
    {"AnEscapeByte",
     "trade: doorbells"sv,
     "trade: door\x1b"
     "bells"sv,
     {"f:2:12: a control character (0x1b); expected letters, signs, spaces and line feeds"}},
    {"ACarriageReturnAlone",
     "trade: doorbells"sv,
     "trade: door\x0d"
     "bells"sv,
     {"f:2:12: a control character (0x0d); expected letters, signs, spaces and line feeds"}},
    {"ColumnsCountCharacters",
     "trade: doorbells"sv,
     "\"tradé\": doorbells"sv,
     {"f:2:1: unknown key \"tradé\"; expected trade, about, cautions, always, connectors, senses, "
      "meter, stresses or one of 13 more (did you mean \"trade\"?)"}},
    {"AQuoteThatIsNotClosed",
     "coupler: \"a jar\""sv,
     "coupler: \"a jar"sv,
     {"f:194:16: quotes that are not closed; expected a closing quote"}},
    {"ColumnsCountCharactersAfterAccents",
     "prices: {miss minutes: 60, service minutes: 45, source: judged}"sv,
     "prices: {miss minutes: 60, source: \"geschätzt für äöü\", service minutes: x}"sv,
     {"f:155:74: \"x\" is no number; expected minutes, from 0 to 100000"}},
};

class BadYaml : public ::testing::TestWithParam<Slip> {};

TEST_P(BadYaml, BringsExactlyTheseComplaints) {
  const Slip& slip = GetParam();
  const std::string text = edited(good("doorbell.yaml"), slip.from, slip.to);
  ASSERT_FALSE(text.empty());
  EXPECT_EQ(lines(rules_from(text, "f")), slip.lines);
}

INSTANTIATE_TEST_SUITE_P(Each, BadYaml, ::testing::ValuesIn(kBadYaml), claim_of);

}  // namespace
}  // namespace whichlink::load
