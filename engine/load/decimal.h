#pragma once

#include <optional>
#include <string>

namespace whichlink::load {

/// The double nearest to a text that is wholly a decimal number ("12", "-.5", "3e-4"), whatever the
/// language of the system; nothing where it is none, or where no double comes near it.
/// The pocket page has another of its own: the library it is built with lacks the function for it.
[[nodiscard]] std::optional<double> decimal_from(const std::string& text);

}  // namespace whichlink::load
