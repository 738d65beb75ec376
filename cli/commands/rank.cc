#include <charconv>
#include <memory>

#include "case_options.h"
#include "render/json.h"
#include "render/pages.h"
#include "render/pomdp.h"
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
  const moves::Installation installation =
      by_record(load_installation(model_of(options)), options.record);
  const auto one = open_case(installation, options, true);
  const plan::Picture picture = one->picture();
  const guide::Advice advice = one->advise(depth_of(options.think));
  show(options.json ? render::to_text(render::rank_json(*one, advice, picture))
                    : render::rank_page(*one, advice, picture, style_of_output()));
  return kDone;
}

struct TablesOptions {
  CaseOptions about;
  std::size_t faults = 0;
  std::string format = "json";
  std::optional<std::size_t> together, standings;
};

int pomdp(const TablesOptions& options) {
  if (options.about.json) refuse("--json", "does not go with --format pomdp", "");
  const moves::Installation installation =
      by_record(load_installation(model_of(options.about)), options.about.record);
  const auto one = open_case(installation, options.about, true);
  if (!one->steps().empty()) {
    refuse("--evidence", "holds moves that were done", "a complaint alone with --format pomdp");
  }
  const moves::Setting& setting = one->setting();
  const RouteId route = one->standing().route;
  const SignalId signal = setting.chain().routes[route].signal;
  const faults::Sense& sense = setting.rules().senses[setting.rules().signals[signal].sense];
  flat::Limits limits;
  if (options.faults > 0) limits.faults = options.faults;
  limits.together = options.together.value_or(limits.together);
  limits.standings = options.standings.value_or(limits.standings);
  const flat::Process process =
      must(flat::process_of(setting, route, one->belief().listener(),
                            must(guide::weights_of(sense, one->events().complaint, {})), limits));
  show(render::pomdp_text(setting, process));
  return kDone;
}

int tables(const TablesOptions& options) {
  if (options.format == "pomdp") return pomdp(options);
  if (options.together) refuse("--together", "goes with --format pomdp alone", "");
  if (options.standings) refuse("--standings", "goes with --format pomdp alone", "");
  const moves::Installation installation =
      by_record(load_installation(model_of(options.about)), options.about.record);
  const auto one = open_case(installation, options.about, false);
  show(render::to_text(render::tables_json(*one, options.faults)));
  return kDone;
}

// A whole number within limits; what is no such number gets one line.
CLI::Validator whole_number(std::size_t low, std::size_t high) {
  const auto problem = [low, high](const std::string& text) -> std::string {
    std::size_t count = 0;
    const char* end = text.data() + text.size();
    const auto [stopped, error] = std::from_chars(text.data(), end, count);
    if (error == std::errc() && stopped == end && count >= low && count <= high) return "";
    return "\"" + text + "\" is no such number; expected " + std::to_string(low) + " to " +
           std::to_string(high);
  };
  return {problem, ""};
}

std::string format_problem(const std::string& text) {
  return text == "json" || text == "pomdp"
             ? ""
             : "\"" + text + "\" is no format; expected json or pomdp";
}

}  // namespace

Command rank_command(CLI::App& program) {
  const auto options = std::make_shared<CaseOptions>();
  CLI::App* app = program.add_subcommand(
      "rank", "Rank every suspect and every move for what was heard and done so far");
  add_case_options(*app, *options);
  app->add_option("--evidence", options->evidence, "A case file: what was heard and done");
  add_think_option(*app, options->think);
  add_rates_option(*app, options->record);
  return {app, [options] { return rank(*options); }};
}

Command tables_command(CLI::App& program) {
  const auto options = std::make_shared<TablesOptions>();
  CLI::App* app =
      program.add_subcommand("tables", "Write every number that the engine uses for one route");
  add_case_options(*app, options->about);
  app->add_option("--evidence", options->about.evidence, "A case file: what was heard and done");
  add_rates_option(*app, options->about.record);
  app->add_option("--faults", options->faults,
                  "Keep only so many faults, the likeliest on the route (0: all; pomdp: 6)")
      ->check(whole_number(0, 999999));
  app->add_option("--format", options->format, "json, or pomdp for general-purpose solvers")
      ->check(format_problem);
  app->add_option("--together", options->together,
                  "pomdp: at most so many faults present at once (default 1)")
      ->check(whole_number(1, 999));
  app->add_option("--standings", options->standings,
                  "pomdp: keep so many ways in which things can stand (default 10)")
      ->check(whole_number(1, 999));
  return {app, [options] { return tables(*options); }};
}

}  // namespace whichlink::cli
