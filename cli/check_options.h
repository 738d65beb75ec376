#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>

#include "routine/round.h"

namespace whichlink::cli {

/// The options that say which check is meant, and by whom; shared by the command and its sheet.
struct CheckOptions {
  std::string list;
  std::string listener;
  std::optional<double> trip_db;
};

void add_check_options(CLI::App& app, CheckOptions& options);
/// A check that has not begun, with places for complaints.
[[nodiscard]] routine::CheckFile check_of(const CheckOptions& options);

}  // namespace whichlink::cli
