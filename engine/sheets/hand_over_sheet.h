#pragma once

#include <optional>
#include <string>

#include "guide/case.h"

namespace whichlink::sheets {

/// What a record knows of a case besides its events.
struct CaseOnPaper {
  std::string number;  ///< on record; empty: none
  std::string opened;  ///< a moment; empty: not known
  std::string date;    ///< of the page, as 2026-11-26
};

/// One case for a service engineer: the complaint, what was done and heard, what that leaves, and
/// what is not as it was. It holds no name of anybody; those who call or come are left to be
/// written in.
[[nodiscard]] std::string hand_over_sheet(const guide::Case& one, const CaseOnPaper& about);

}  // namespace whichlink::sheets
