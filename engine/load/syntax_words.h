#pragma once

#include <string>

namespace whichlink::load {

struct SyntaxWords {
  std::string what;
  std::string expected;
};

/// Our words for what the YAML library says of a text that is no YAML.
[[nodiscard]] SyntaxWords syntax_words(const std::string& library_message);

}  // namespace whichlink::load
