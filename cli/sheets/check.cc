#include <memory>

#include "check_options.h"
#include "sheet.h"
#include "sheets/check_sheet.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

struct CheckSheetOptions {
  std::string model;
  CheckOptions about;
  std::string coupler;
  RecordOptions record;
};

std::string check_page(const CheckSheetOptions& options) {
  const moves::Installation installation = load_installation(options.model);
  const moves::Setting setting(installation, installation.rules.handling.default_days_since_pass);
  const auto round = must(routine::Round::open(setting, check_of(options.about)));
  return must(sheets::check_sheet(*round, options.coupler, day_of_page(options.record)));
}

}  // namespace

Sheet check_sheet(CLI::App& sheets) {
  const auto options = std::make_shared<CheckSheetOptions>();
  CLI::App* app = sheets.add_subcommand("check", "The routine check as a form for five checks");
  add_model_option(*app, options->model);
  add_check_options(*app, options->about);
  app->add_option("--coupler", options->coupler, "Add a table for a meter's readings on this one");
  add_at_option(*app, options->record);
  return {app, [options] { return check_page(*options); }};
}

}  // namespace whichlink::cli
