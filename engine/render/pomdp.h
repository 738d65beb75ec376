#pragma once

#include <string>

#include "flat/process.h"

namespace whichlink::render {

/// A case in the POMDP file format that general-purpose solvers read: docs/formats.md, "The same
/// case for a general-purpose solver". Numbers are plain decimals that read back as the same
/// double.
/// @param setting  the one that the process was made of
[[nodiscard]] std::string pomdp_text(const moves::Setting& setting, const flat::Process& process);

}  // namespace whichlink::render
