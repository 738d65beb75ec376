#include <cstddef>
#include <cstdint>
#include <string_view>

#include "answer.h"
#include "load/load.h"

// Any bytes as lessons: what is accepted has a case in each lesson, and something hidden in each
// case.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using whichlink::fuzz::must;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto answer = whichlink::load::lessons_from(text, "f");
  whichlink::fuzz::check(answer);
  if (!answer) return 0;
  must(!answer->lessons.empty(), "no lesson");
  for (const auto& lesson : answer->lessons) {
    must(!lesson.goal.empty() && !lesson.hint.empty(), "a lesson without a goal or a hint");
    must(!lesson.cases.empty(), "a lesson without a case");
    for (const auto& one : lesson.cases) {
      const bool said = !one.hidden.empty() || !one.crossed.empty();
      must(said != one.drawn, "a case that hides nothing, or twice");
      must(one.crossed.empty() || one.crossed.size() == 2, "plugs that are no pair");
      must(one.drawn || !one.heard.empty(), "a case without a complaint");
    }
  }
  return 0;
}
