#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

namespace whichlink::cli {

/// What the last of these words may become: commands and options as the program knows them, and
/// values such as the routes of the model that was chosen; empty where any file may stand.
/// @param words  what was typed after the program's name, the last as far as it was
[[nodiscard]] std::vector<std::string> completions(const CLI::App& program,
                                                   const std::vector<std::string>& words);

/// The text that teaches a shell to ask for them. @param shell  bash, zsh or fish; else empty
[[nodiscard]] std::string completion_script(const std::string& shell);

}  // namespace whichlink::cli
