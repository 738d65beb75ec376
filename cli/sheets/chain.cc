#include <memory>

#include "sheet.h"
#include "sheets/chain_sheet.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

struct ChainSheetOptions {
  std::string model;
  RecordOptions record;
};

std::string chain_page(const ChainSheetOptions& options) {
  const moves::Installation installation = load_installation(options.model);
  const moves::Setting setting(installation, 0);
  return sheets::chain_sheet(setting, day_of_page(options.record));
}

}  // namespace

Sheet chain_sheet(CLI::App& sheets) {
  const auto options = std::make_shared<ChainSheetOptions>();
  CLI::App* app = sheets.add_subcommand(
      "chain", "Every route as it should be plugged, drawn, with a table of all plugs");
  add_model_option(*app, options->model);
  add_at_option(*app, options->record);
  return {app, [options] { return chain_page(*options); }};
}

}  // namespace whichlink::cli
