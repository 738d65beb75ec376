#pragma once

#include <string>
#include <utility>
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

/// What a step is called: an item by its own name.
[[nodiscard]] std::string step_title(const moves::Setting& setting, const routine::Step& step);
/// The question that its answer answers. @param with_worst  says that one answer stands for all
[[nodiscard]] std::string step_question(const moves::Setting& setting, const routine::Step& step,
                                        bool with_worst = true);
/// The sentences of caution that belong to it.
[[nodiscard]] std::vector<std::string> step_cautions(const moves::Setting& setting,
                                                     const routine::Step& step);
/// What is to be stressed in one place.
struct StressedPlace {
  PlaceId place;
  std::vector<std::pair<ElementId, StressId>> stresses;
};
/// In the order in which somebody comes by.
[[nodiscard]] std::vector<StressedPlace> stressed_places(const moves::Setting& setting,
                                                         const routine::Step& step);

}  // namespace whichlink::render
