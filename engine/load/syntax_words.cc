#include "load/syntax_words.h"

#include <yaml-cpp/exceptions.h>

#include <array>
#include <string_view>

namespace whichlink::load {
namespace {

struct Row {
  std::string_view library_message;  ///< or how it begins
  const char* what;
  const char* expected;
};

namespace message = YAML::ErrorMsg;

constexpr const char* kIndent = "keys of one mapping in the same column, deeper ones further right";

const std::array kRows = {
    Row{message::END_OF_MAP, "a line that does not belong to the mapping above", kIndent},
    Row{message::END_OF_MAP_FLOW, "a { is not closed", "a comma or }"},
    Row{message::END_OF_SEQ, "a line that does not belong to the list above",
        "a dash in the column of the other dashes"},
    Row{message::END_OF_SEQ_FLOW, "a [ is not closed", "a comma or ]"},
    Row{message::FLOW_END, "a } or ] that nothing opened", "one closing bracket for each opened"},
    Row{message::TAB_IN_INDENTATION, "a tab in the indentation", "spaces"},
    Row{message::EOF_IN_SCALAR, "the file ends inside quotes", "a closing quote"},
    Row{message::DOC_IN_SCALAR, "a document mark inside quotes", "a closing quote before it"},
    Row{message::CHAR_IN_SCALAR, "a character that no value may start with",
        "quotes around the value"},
    Row{message::UNKNOWN_TOKEN, "a character that no value may start with",
        "quotes around the value"},
    Row{message::BLOCK_ENTRY, "a dash where no list can stand", "a list on lines of its own"},
    Row{message::MAP_KEY, "a ? where no key can stand", "`key: value`"},
    Row{message::MAP_VALUE, "a colon where no value can stand",
        "one `key: value` a line, quotes around text that holds a colon"},
    Row{message::ALIAS_NOT_FOUND, "an alias (*)", "the value itself"},
    Row{message::CHAR_IN_ALIAS, "an alias (*)", "the value itself"},
    Row{message::ALIAS_CONTENT, "an alias (*)", "the value itself"},
    Row{message::UNKNOWN_ANCHOR, "an alias (*)", "the value itself"},
    Row{message::ANCHOR_NOT_FOUND, "an anchor (&)", "the value alone"},
    Row{message::CHAR_IN_ANCHOR, "an anchor (&)", "the value alone"},
    Row{message::MULTIPLE_ANCHORS, "an anchor (&)", "the value alone"},
    Row{message::MULTIPLE_TAGS, "a tag (!)", "the value alone"},
    Row{message::CHAR_IN_TAG_HANDLE, "a tag (!)", "the value alone"},
    Row{message::TAG_WITH_NO_SUFFIX, "a tag (!)", "the value alone"},
    Row{message::END_OF_VERBATIM_TAG, "a tag (!)", "the value alone"},
    Row{message::CHAR_IN_BLOCK, "a character that cannot follow | or >", "a line break"},
    Row{message::ZERO_INDENT_IN_BLOCK, "a 0 after | or >", "a line break"},
    Row{message::INVALID_ESCAPE, "an unknown escape in double quotes",
        "two backslashes for a backslash, or single quotes"},
    Row{message::INVALID_HEX, "an escape in double quotes that is no number", "hexadecimal digits"},
    Row{message::INVALID_UNICODE, "an escape in double quotes that is no character",
        "a Unicode character"},
};

}  // namespace

SyntaxWords syntax_words(const std::string& library_message) {
  const Row* found = nullptr;
  for (const Row& row : kRows) {
    const bool fits =
        library_message.compare(0, row.library_message.size(), row.library_message) == 0;
    const bool longer =
        found == nullptr || row.library_message.size() > found->library_message.size();
    if (fits && longer) found = &row;
  }
  if (found == nullptr) return {"this is not YAML", "lines of the form `key: value`"};
  return {found->what, found->expected};
}

}  // namespace whichlink::load
