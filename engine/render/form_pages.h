#pragma once

#include <string>
#include <vector>

#include "draft/draft.h"
#include "render/text.h"

/// What somebody sees who describes an installation, question by question.
namespace whichlink::render {

/// How questions are answered; shown once.
[[nodiscard]] std::string form_opening_page(const Style& style);
/// @param usual  what Enter takes
[[nodiscard]] std::string question_page(const draft::Question& question, const draft::Said& usual,
                                        const Style& style);
/// Why it is asked, and what can be typed.
[[nodiscard]] std::string question_help(const draft::Question& question, const Style& style);
/// "No question is about the part spare lamp, and 3 more: they stay as they are."
[[nodiscard]] std::string kept_line(const std::vector<std::string>& kept, const Style& style);
/// What was written, and what is worth finding out.
[[nodiscard]] std::string draft_page(const draft::Draft& draft, const std::string& file,
                                     const Style& style);

}  // namespace whichlink::render
