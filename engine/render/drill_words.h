#pragma once

#include <string>
#include <vector>

#include "drill/drill.h"

/// Sentences that pages of a drill are made of.
namespace whichlink::render {

/// "crackles or scratches"
[[nodiscard]] std::string answer_words(const drill::Drill& drill, const drill::Turn& turn);
/// What an answer did and did not rule out, a sentence each, without figures.
[[nodiscard]] std::vector<std::string> told_words(const drill::Drill& drill,
                                                  const drill::Turn& turn);
/// A question that leads to the planner's next choice.
[[nodiscard]] std::string question_words(const drill::Drill& drill);
/// What the planner's next choice tells apart.
[[nodiscard]] std::string split_words(const drill::Drill& drill);
/// "close the case", or the move.
[[nodiscard]] std::string choice_words(const drill::Drill& drill, const drill::Choice& choice);

}  // namespace whichlink::render
