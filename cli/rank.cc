#include <memory>

#include "case_options.h"
#include "render/json.h"
#include "render/pages.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

std::unique_ptr<guide::Case> open_case(const moves::Installation& installation,
                                       const CaseOptions& options, bool heard_needed) {
  guide::CaseFile events = events_from(options);
  if (events.route.empty()) refuse("--route", "is missing", "a route of the installation");
  if (events.complaint.heard.empty() && heard_needed) {
    refuse("--heard", "is missing", "a symptom, or an evidence file");
  }
  if (events.complaint.heard.empty()) events.complaint.heard = guide::kNotSure;
  return must(guide::Case::open(installation, std::move(events)));
}

std::string model_of(const CaseOptions& options) {
  const guide::CaseFile events = events_from(options);
  if (events.model.empty()) refuse("--model", "is missing", "an installation");
  return events.model;
}

int rank(const CaseOptions& options) {
  const moves::Installation installation = load_installation(model_of(options));
  const auto one = open_case(installation, options, true);
  const plan::Picture picture = one->picture();
  const guide::Advice advice = one->advise();
  show(options.json ? render::to_text(render::rank_json(*one, advice, picture))
                    : render::rank_page(*one, advice, picture, style_of_output()));
  return kDone;
}

struct TablesOptions {
  CaseOptions about;
  std::size_t faults = 0;
};

int tables(const TablesOptions& options) {
  const moves::Installation installation = load_installation(model_of(options.about));
  const auto one = open_case(installation, options.about, false);
  show(render::to_text(render::tables_json(*one, options.faults)));
  return kDone;
}

}  // namespace

Command rank_command(CLI::App& program) {
  const auto options = std::make_shared<CaseOptions>();
  CLI::App* app = program.add_subcommand(
      "rank", "Rank every suspect and every move for what was heard and done so far");
  add_case_options(*app, *options);
  app->add_option("--evidence", options->evidence, "A case file: what was heard and done");
  return {app, [options] { return rank(*options); }};
}

Command tables_command(CLI::App& program) {
  const auto options = std::make_shared<TablesOptions>();
  CLI::App* app = program.add_subcommand(
      "tables", "Write every number that the engine uses for one route, as JSON");
  add_case_options(*app, options->about);
  app->add_option("--evidence", options->about.evidence, "A case file: what was heard and done");
  app->add_option("--faults", options->faults,
                  "Keep only so many faults, the likeliest on the route (0: all)");
  return {app, [options] { return tables(*options); }};
}

}  // namespace whichlink::cli
