#include "sheet.h"

#include <algorithm>
#include <memory>

#include "base/moment.h"
#include "shell.h"

namespace whichlink::cli {

void add_model_option(CLI::App& app, std::string& model) {
  app.add_option("--model", model,
                 "The installation: a file, or the name of one that comes with whichlink")
      ->required();
}

std::string day_of_page(const RecordOptions& options) {
  return day_of(options.clock().now());
}

Command sheet_command(CLI::App& program) {
  CLI::App* app =
      program.add_subcommand("sheet", "Write a page to print and hold, as one HTML file");
  app->require_subcommand(1);
  const std::vector<Sheet> sheets = {
      chain_sheet(*app),      check_sheet(*app), hand_over_sheet(*app),
      do_not_use_sheet(*app), stock_sheet(*app), drill_sheet(*app),
      year_sheet(*app),       wall_sheet(*app),  pocket_sheet(*app)};
  const auto out = std::make_shared<std::string>();
  for (const Sheet& sheet : sheets) {
    sheet.app->add_option("--out", *out, "Write the page to this file (default: show it)");
  }
  return {app, [sheets, out] {
            const auto asked = std::find_if(sheets.begin(), sheets.end(),
                                            [](const Sheet& one) { return one.app->parsed(); });
            const std::string page = asked->page();
            if (out->empty()) {
              show(page);
            } else {
              keep_file(*out, page);
            }
            return kDone;
          }};
}

}  // namespace whichlink::cli
