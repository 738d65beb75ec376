#pragma once

#include <string>
#include <vector>

#include "guide/case.h"

namespace whichlink::sheets {

/// What hangs on a door or a jack.
struct Notice {
  std::string installation;
  std::vector<std::string> routes;  ///< not to be used
  std::string heard;                ///< what is wrong, as a colleague says it
  std::string since;                ///< a moment
  std::vector<std::string> works;   ///< meanwhile
  std::string date;                 ///< of the page, as 2026-11-26
};

/// Of cases, one for each route that is complained of: what none of them leaves out of doubt.
/// @param cases  of one installation, not empty
[[nodiscard]] Notice notice_of(const std::vector<const guide::Case*>& cases);
/// In letters to be read across a room.
[[nodiscard]] std::string notice_sheet(const Notice& notice);

}  // namespace whichlink::sheets
