#include <memory>

#include "case_options.h"
#include "sheet.h"
#include "sheets/check_sheet.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

struct Options {
  std::string model;
  std::string list;
  std::string listener;
  std::string coupler;
  std::optional<double> trip_db;
  RecordOptions record;
};

std::string page(const Options& options) {
  const moves::Installation installation = load_installation(options.model);
  const moves::Setting setting(installation, installation.rules.handling.default_days_since_pass);
  routine::CheckFile events;
  events.list = options.list;
  events.list_place = {"--list", 0, 0};
  events.listener = options.listener;
  events.listener_place = {"--listener", 0, 0};
  events.trip_db = options.trip_db;
  events.trip_place = {"--trip", 0, 0};
  const auto round = must(routine::Round::open(setting, std::move(events)));
  return must(sheets::check_sheet(*round, options.coupler, day_of_page(options.record)));
}

}  // namespace

Sheet check_sheet(CLI::App& sheets) {
  const auto options = std::make_shared<Options>();
  CLI::App* app = sheets.add_subcommand("check", "The routine check as a form for five checks");
  add_model_option(*app, options->model);
  app->add_option("--list", options->list, "Which list of the rules: daily or weekly");
  app->add_option("--listener", options->listener, "Who listens: practised or new");
  app->add_option("--trip", options->trip_db,
                  "From which change in dB an own threshold counts: 5 or 10")
      ->check([](const std::string& text) {
        return number_in(text) ? "" : "\"" + text + "\" is no trip level; expected 5 or 10";
      });
  app->add_option("--coupler", options->coupler, "Add a table for a meter's readings on this one");
  add_at_option(*app, options->record);
  return {app, [options] { return page(*options); }};
}

}  // namespace whichlink::cli
