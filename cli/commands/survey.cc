#include "guide/survey.h"

#include <memory>

#include "render/json.h"
#include "render/pages.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

struct SurveyOptions {
  std::string model;
  bool json = false;
  bool moves = false;
};

int survey(const SurveyOptions& options) {
  const moves::Installation installation = load_installation(options.model);
  const moves::Setting setting(installation, installation.rules.handling.default_days_since_pass);
  const guide::Survey found = guide::survey_of(setting);
  show(options.json ? render::to_text(render::survey_json(setting, found))
                    : render::survey_page(setting, found, options.moves, style_of_output()));
  return kDone;
}

}  // namespace

Command survey_command(CLI::App& program) {
  const auto options = std::make_shared<SurveyOptions>();
  CLI::App* app = program.add_subcommand(
      "survey", "Check an installation and draw its chains, routes, spares and moves");
  app->add_option("model", options->model,
                  "An installation: a file, or the name of one that comes with whichlink")
      ->required();
  app->add_flag("--moves", options->moves, "List every move of every route with its minutes");
  app->add_flag("--json", options->json, "Write JSON");
  return {app, [options] { return survey(*options); }};
}

}  // namespace whichlink::cli
