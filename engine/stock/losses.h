#pragma once

#include <vector>

#include "moves/setting.h"

namespace whichlink::stock {

/// Sessions a day of use that are lost while these signals are out, given what else works: some go
/// on without, some by another signal, as the rules' stores say. Signals are wanted independently.
/// Rules and installation must have `use` and `stores`. Example: ten sessions a day, of which .9
/// use phones, .8 of them could be done by inserts: 1.8 are lost.
[[nodiscard]] double sessions_lost_per_day(const moves::Setting& setting,
                                           const std::vector<SignalId>& out);

/// The same while one part of a kind is missing: the one that is missed least, since staff may
/// change it for the others. A signal is out when one of its routes is.
[[nodiscard]] double sessions_lost_per_day(const moves::Setting& setting, PartKindId kind);

/// Signals of the installation's routes, ascending, each once.
[[nodiscard]] std::vector<SignalId> signals_of(const chain::Chain& chain);

}  // namespace whichlink::stock
