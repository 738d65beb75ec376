#pragma once

#include <string>

#include "guide/case.h"
#include "record/entries.h"

namespace whichlink::history {

/// A cause is put on record from this chance on. Below it, all causes of a case together are some
/// hundredths of a fault.
constexpr double kWorthRecording = 0.001;

/// How a record calls the kind of a fault: "CLASS: MODE", as the rules name them, so that faults of
/// one kind count together wherever they are; "not listed" for a cause that the rules do not list.
[[nodiscard]] std::string mode_name(const moves::Setting& setting, FaultId fault);
[[nodiscard]] std::string mode_name(const faults::Rules& rules, ModeId mode);
inline const std::string kCrossed = "crossed plugs";
inline const std::string kNotListed = "not listed";

/// What a record keeps of a case that has come to its ending.
[[nodiscard]] record::CaseEnd closing_of(const guide::Case& one, const guide::Ending& ending);

}  // namespace whichlink::history
