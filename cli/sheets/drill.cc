#include <memory>

#include "load/load.h"
#include "sheet.h"
#include "sheets/drill_sheet.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

struct DrillSheetOptions {
  std::string trainee;
  RecordOptions record;
};

std::string drill_page(const DrillSheetOptions& options) {
  const std::string code = must(load::trainee_code(options.trainee, {"--trainee", 0, 0}));
  const std::string file = options.record.file_or_default();
  const auto record = open_record(file, record::Access::read);
  const history::Progress progress = history::progress_of(code, must(record->drills(code)));
  if (progress.drills.empty()) {
    refuse(file, "has no drill of " + code, "a trainee with a drill on record");
  }
  return sheets::drill_sheet(progress, day_of_page(options.record));
}

}  // namespace

Sheet drill_sheet(CLI::App& sheets) {
  const auto options = std::make_shared<DrillSheetOptions>();
  CLI::App* app =
      sheets.add_subcommand("drill", "How one trainee gets on, by all drills on record");
  app->add_option("--trainee", options->trainee, "The trainee's code")->required();
  add_record_option(*app, options->record);
  add_at_option(*app, options->record);
  return {app, [options] { return drill_page(*options); }};
}

}  // namespace whichlink::cli
