#include <memory>

#include "load/load.h"
#include "pocket/page.h"
#include "sheet.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

struct PocketOptions {
  std::string model;
  std::string contact;
  RecordOptions record;
};

// The tree of a text that was read without a complaint before.
Json tree_of(const std::string& text, const std::string& file) {
  load::Complaints complaints(file);
  const std::optional<load::Node> root = load::tree_from(text, complaints);
  if (!root || !complaints.empty()) throw BadInput{complaints.sorted()};
  return json_of(*root);
}

std::string pocket_sheet_page(const PocketOptions& options) {
  const moves::Installation installation =
      by_record(load_installation(options.model), options.record);
  if (!has_pocket_page()) {
    refuse("sheet pocket", "this whichlink was built without the engine for the page",
           "one built with -DWHICHLINK_POCKET=ON, as cli/start.sh sheet pocket does");
  }
  const std::string file = installation_path(options.model);
  const std::string text = must(load::read_file(file));
  const std::string rules = rules_path(must(load::rules_name_in(text, file)));
  return pocket_page({options.model, options.contact, tree_of(must(load::read_file(rules)), rules),
                      tree_of(text, file)},
                     installation);
}

}  // namespace

Sheet pocket_sheet(CLI::App& sheets) {
  const auto options = std::make_shared<PocketOptions>();
  CLI::App* app = sheets.add_subcommand(
      "pocket", "A page that guides a case on a phone or tablet, without a network");
  add_model_option(*app, options->model);
  app->add_option("--contact", options->contact, "Whom to call for service, as the page says it");
  add_rates_option(*app, options->record);
  return {app, [options] { return pocket_sheet_page(*options); }};
}

}  // namespace whichlink::cli
