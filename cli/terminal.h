#pragma once

#include <memory>

#include "surroundings.h"

namespace whichlink::cli {

/// The keys of the terminal at standard input. The terminal is as before once it is gone, and after
/// an interrupt too.
[[nodiscard]] std::unique_ptr<Keyboard> terminal_keyboard();

}  // namespace whichlink::cli
