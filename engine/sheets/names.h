#pragma once

#include <string>

#include "chain/chain.h"

/// Names as they are said on paper.
namespace whichlink::sheets {

/// "headset cord (left plug)": a part with the piece of it that is meant.
[[nodiscard]] std::string called(const chain::Chain& chain, ElementId element);
/// A sentence of the engine with the names of pieces in it said like that.
[[nodiscard]] std::string said_names(const chain::Chain& chain, std::string sentence);
/// With a capital at its beginning.
[[nodiscard]] std::string capital(std::string sentence);
/// "2026-11-26T08:30:00" as people write it: "2026-11-26 08:30".
[[nodiscard]] std::string said_moment(const std::string& moment);

}  // namespace whichlink::sheets
