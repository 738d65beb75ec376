#pragma once

#include <string>

#include "guide/case.h"

namespace whichlink::sheets {

/// What was reported, as a colleague says it: "drops out and comes back", "weak by 25 dB".
[[nodiscard]] std::string said(const faults::Rules& rules, const faults::Signal& signal,
                               SenseId sense, const guide::Report& report);
/// The complaint of a case.
[[nodiscard]] std::string complaint_of(const guide::Case& one);
/// What a move of it was answered with.
[[nodiscard]] std::string heard_at(const guide::Case& one, const guide::Step& step);

}  // namespace whichlink::sheets
