#pragma once

#include <string>

#include "render/json.h"
#include "render/text.h"
#include "routine/round.h"

/// The pages of the routine check, at most Style::width columns wide.
namespace whichlink::render {

/// The first screen: the list, how long it takes, what a trip level costs, and the cautions.
[[nodiscard]] std::string check_opening_page(const routine::Round& round, const Style& style);
/// One step: what to do, where, what to play, to stress and to hear.
[[nodiscard]] std::string check_step_page(const routine::Round& round, const routine::Step& step,
                                          const Style& style);
/// The keys that answer it.
[[nodiscard]] std::string check_answer_line(const routine::Round& round, const routine::Step& step,
                                            const Style& style);
/// What each key means, in more words.
[[nodiscard]] std::string check_help_page(const routine::Round& round, const routine::Step& step,
                                          const Style& style);
/// Asked after something wrong on a route that was stressed.
[[nodiscard]] std::string when_line(const Style& style);
/// A route has failed: isolate it now, or go on.
[[nodiscard]] std::string failed_line(const routine::Round& round, RouteId route,
                                      const Style& style);
/// A level against what it must be.
[[nodiscard]] std::string level_line(const routine::Level& level, const Style& style);
/// What came of it, with the words to hang on each failed route.
[[nodiscard]] std::string check_result_page(const routine::Round& round, const Style& style);

/// The plan, its minutes and chances, and the outcome: docs/formats.md, "A check".
[[nodiscard]] Json check_json(const routine::Round& round);

}  // namespace whichlink::render
