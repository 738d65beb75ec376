#pragma once

#include "load/installation_reader.h"

namespace whichlink::load {

/// What an installation must be as a whole: no ring; each route leads from a source to an end, one
/// way, its own; what it selects is switched to its source; pairs are mutual, on different sides.
/// Precondition: every name in the file was resolved (no complaints so far).
void check_chain(const moves::Installation& installation, const InstallationPlaces& at,
                 Complaints& complaints);

}  // namespace whichlink::load
