#pragma once

#include <string>
#include <vector>

#include "guide/case.h"
#include "guide/survey.h"
#include "render/case_words.h"
#include "render/text.h"

/// Whole screens of text, at most Style::width columns wide.
namespace whichlink::render {

[[nodiscard]] std::string survey_page(const moves::Setting& setting, const guide::Survey& survey,
                                      bool with_moves, const Style& style);

/// The first screen of a case: what was complained of, and the cautions that always hold.
[[nodiscard]] std::string opening_page(const guide::Case& one, const Style& style);
/// One step: the move, where, cautions, why, the chain with its suspicion, the suspects.
[[nodiscard]] std::string step_page(const guide::Case& one, const guide::Advice& advice,
                                    const plan::Picture& picture, const moves::Move& move,
                                    const Style& style);
/// The line of keys under a step.
[[nodiscard]] std::string answer_line(const guide::Case& one, const moves::Move& move,
                                      const Style& style);
/// What the search says of the rest of the case: both bounds, and of which part of it.
[[nodiscard]] std::string bounds_words(const plan::Ahead& ahead, const Style& style);
/// Why this move and not the next best: the split, the chance of each report, what each would mean,
/// and what would turn the choice over.
[[nodiscard]] std::string why_page(const guide::Case& one, const guide::Advice& advice,
                                   const moves::Move& move, const Style& style);
/// The other moves, numbered in the order of Advice::plan.candidates.
[[nodiscard]] std::string others_page(const guide::Case& one, const guide::Advice& advice,
                                      const Style& style);
[[nodiscard]] std::string ending_page(const guide::Case& one, const guide::Ending& ending,
                                      const Style& style);
[[nodiscard]] std::string rank_page(const guide::Case& one, const guide::Advice& advice,
                                    const plan::Picture& picture, const Style& style);

}  // namespace whichlink::render
