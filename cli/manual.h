#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace whichlink::cli {

/// The manual page in roff: all commands and options as the program knows them, so that it cannot
/// say anything else than `--help`.
[[nodiscard]] std::string manual_of(const CLI::App& program);

}  // namespace whichlink::cli
