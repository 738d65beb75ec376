#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <string>

#include "record_options.h"

/// Pages to print and hold. Each kind is one file, KIND.cc, and one line of the table in sheet.cc.
namespace whichlink::cli {

/// A kind of sheet: its own subcommand, and what makes the page once the options are read. `--out`
/// is added by the table.
struct Sheet {
  CLI::App* app;
  std::function<std::string()> page;
};

/// `--model`, which must be given.
void add_model_option(CLI::App& app, std::string& model);
/// The day that a page bears: that of --at, or today.
[[nodiscard]] std::string day_of_page(const RecordOptions& options);

[[nodiscard]] Sheet chain_sheet(CLI::App& sheets);
[[nodiscard]] Sheet check_sheet(CLI::App& sheets);
[[nodiscard]] Sheet hand_over_sheet(CLI::App& sheets);
[[nodiscard]] Sheet do_not_use_sheet(CLI::App& sheets);
[[nodiscard]] Sheet stock_sheet(CLI::App& sheets);
[[nodiscard]] Sheet drill_sheet(CLI::App& sheets);
[[nodiscard]] Sheet year_sheet(CLI::App& sheets);
[[nodiscard]] Sheet wall_sheet(CLI::App& sheets);
[[nodiscard]] Sheet pocket_sheet(CLI::App& sheets);

}  // namespace whichlink::cli
