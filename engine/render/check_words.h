#pragma once

#include <string>
#include <vector>

#include "routine/round.h"

/// Words that the pages of a check and its JSON share.
namespace whichlink::render {

/// "untouched", "only under stress"; empty where nobody knows.
[[nodiscard]] std::string when_words(const std::optional<routine::When>& when);
[[nodiscard]] std::string stage_words(guide::Stage stage);
/// "passed", "FAILED", "mended", "not checked".
[[nodiscard]] std::string verdict_words(routine::Verdict verdict);
/// Those that always hold, then those of the list's steps, each once.
[[nodiscard]] std::vector<std::string> all_cautions(const routine::Round& round);

}  // namespace whichlink::render
