#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

/// The tree of commands and options, as the manual page and the completion see it.
namespace whichlink::cli {

/// In the order in which they were added.
[[nodiscard]] std::vector<const CLI::App*> commands_of(const CLI::App& app);
[[nodiscard]] std::vector<const CLI::Option*> options_of(const CLI::App& app);
/// "-h" and "--help"; the name in capitals of what stands without one.
[[nodiscard]] std::vector<std::string> names_of(const CLI::Option& option);
/// False for a flag.
[[nodiscard]] bool takes_value(const CLI::Option& option);
/// What stands for its value: "MODEL" for --model.
[[nodiscard]] std::string value_name(const CLI::Option& option);

}  // namespace whichlink::cli
