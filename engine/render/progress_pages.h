#pragma once

#include <string>

#include "drill/lesson.h"
#include "history/progress.h"
#include "render/json.h"
#include "render/text.h"

/// How drills went: one trainee's progress, a class, how sure people are against how right.
namespace whichlink::render {

/// All lessons, with what a trainee made of each.
/// @param progress  null: nobody's
[[nodiscard]] std::string lessons_page(const drill::Lessons& lessons,
                                       const history::Progress* progress, const Style& style);
[[nodiscard]] Json lessons_json(const drill::Lessons& lessons);

[[nodiscard]] std::string progress_page(const history::Progress& progress, const Style& style);
[[nodiscard]] Json progress_json(const history::Progress& progress);
[[nodiscard]] std::string class_page(const history::ClassView& view, const Style& style);
[[nodiscard]] Json class_json(const history::ClassView& view);

/// A table with bars: what was said against what was so.
[[nodiscard]] std::string calibration_block(const drill::Calibration& calibration,
                                            const Style& style);
/// An SVG 1.1 picture of the same.
[[nodiscard]] std::string calibration_plot(const std::string& whose,
                                           const drill::Calibration& calibration);

}  // namespace whichlink::render
