#pragma once

#include <string>

#include "moves/move.h"

/// The two halves of an instruction, for pages that say once what all their moves share.
namespace whichlink::moves {

/// What the hands do.
[[nodiscard]] std::string handling(const Setting& setting, const Standing& standing,
                                   const Move& move);
/// What is listened to afterwards, "a steady 1000 Hz tone at 70 dB HL, on left phone"; empty where
/// nothing is.
[[nodiscard]] std::string attending(const Setting& setting, const Move& move);

}  // namespace whichlink::moves
