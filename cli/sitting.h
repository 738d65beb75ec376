#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "guide/case.h"
#include "journal.h"
#include "moves/installation.h"
#include "prompt.h"

namespace whichlink::cli {

struct SittingOptions {
  bool json = false;
  plan::Depth depth;
};

using Journals = std::vector<std::unique_ptr<Journal>>;

/// One sitting at a case: asks for what is missing, shows each step, takes each answer and writes
/// it down before the next question.
/// @param journals  where it is written down, each of them; may be empty
/// @return what the case has come to; under way where it was put aside
guide::Stage sit(const moves::Installation& installation, guide::CaseFile events,
                 const SittingOptions& options, Prompt& prompt, const Journals& journals);

/// The report that a typed answer means at this sense.
[[nodiscard]] guide::Report report_of(const std::string& text, const faults::Sense& sense);

}  // namespace whichlink::cli
