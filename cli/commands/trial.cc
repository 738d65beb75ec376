#include "trial/trial.h"

#include <memory>

#include "case_options.h"
#include "load/load.h"
#include "render/trial_pages.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

constexpr std::size_t kMostTrialCases = 1'000'000;

struct TrialOptions {
  std::string model;
  std::string route;
  std::string heard;
  std::optional<double> days;
  std::size_t cases = 1000;
  std::uint64_t seed = 1;
  std::vector<std::string> policies;
  std::string truth = "mid";
  std::string plot;
  std::optional<double> think;
  RecordOptions record;
  bool json = false;
};

std::vector<std::string> all_policies() {
  std::vector<std::string> names;
  for (const trial::PolicyKind& kind : trial::policy_kinds()) names.push_back(kind.name);
  return names;
}

RouteId route_of(const moves::Setting& setting, const std::string& name) {
  std::vector<std::string> names;
  for (const RouteId route : setting.chain().routes.ids()) {
    names.push_back(setting.chain().routes[route].name);
    if (names.back() == name) return route;
  }
  refuse(Problem{
      {"--route", 0, 0}, "unknown route \"" + name + "\"", one_of(names), nearest(name, names)});
}

std::optional<std::size_t> outcome_of(const moves::Setting& setting, RouteId route,
                                      const std::string& heard) {
  if (heard.empty()) return std::nullopt;
  const SignalId signal = setting.chain().routes[route].signal;
  const faults::Sense& sense = setting.rules().senses[setting.rules().signals[signal].sense];
  const std::optional<std::size_t> found = sense.find(heard);
  if (found && *found > 0) return found;
  std::vector<std::string> names;
  for (std::size_t index = 1; index < sense.symptoms.size(); ++index) {
    names.push_back(sense.symptoms[index].name);
  }
  if (sense.elsewhere) names.push_back(sense.elsewhere->name);
  refuse(Problem{{"--heard", 0, 0},
                 "unknown complaint \"" + heard + "\"",
                 one_of(names),
                 nearest(heard, names)});
}

// A bar on standard error while cases are played, where somebody sees it.
std::function<void(double)> progress_bar() {
  if (!is_terminal_err()) return {};
  return [shown = -1](double share) mutable {
    const int percent = static_cast<int>(share * 100);
    if (percent == shown) return;
    shown = percent;
    show_progress(share);
  };
}

int run_trial(const TrialOptions& options) {
  const moves::Installation installation =
      by_record(load_installation(options.model), options.record);
  const double days = options.days.value_or(installation.rules.handling.default_days_since_pass);
  const moves::Setting setting(installation, days);
  const moves::Installation real = trial::with_rates(installation, trial::rates_of(options.truth));
  const moves::Setting truth(real, days);
  trial::Options asked;
  asked.complaint.route = route_of(setting, options.route);
  asked.complaint.heard = outcome_of(setting, asked.complaint.route, options.heard);
  asked.cases = options.cases;
  asked.seed = options.seed;
  asked.depth = depth_of(options.think);
  asked.policies = options.policies.empty() ? all_policies() : options.policies;
  const trial::Outcome outcome = trial::run(setting, truth, asked, progress_bar());
  end_progress();
  if (outcome.cases == 0) {
    refuse("--heard", "\"" + options.heard + "\" hardly ever happens on this route",
           "a complaint that the rules' rates bring about");
  }
  const render::TrialTitle title{installation.name, options.route, options.heard,
                                 options.truth,     options.seed,  days};
  if (!options.plot.empty()) keep_file(options.plot, render::trial_plot(title, outcome));
  show(options.json ? render::to_text(render::trial_json(title, outcome))
                    : render::trial_page(title, outcome, style_of_output()));
  return kDone;
}

}  // namespace

Command trial_command(CLI::App& program) {
  const auto options = std::make_shared<TrialOptions>();
  CLI::App* app = program.add_subcommand(
      "trial", "Play ways of going about a case against each other on simulated cases");
  app->add_option("--model", options->model,
                  "The installation: a file, or the name of one that comes with whichlink")
      ->required();
  app->add_option("--route", options->route, "The route that is complained of")->required();
  app->add_option("--heard", options->heard, "What is complained of; any complaint if not said");
  add_days_option(*app, options->days, "Days since the route last passed a check");
  app->add_option("--cases", options->cases, "How many cases (1000)")
      ->check(CLI::Range(std::size_t{1}, kMostTrialCases));
  app->add_option("--seed", options->seed, "Of everything that is drawn (1)");
  add_think_option(*app, options->think);
  app->add_option("--policy", options->policies, "Only these; all if not said")
      ->check(CLI::IsMember(all_policies()));
  app->add_option("--truth", options->truth,
                  "Which rates the hidden faults are drawn from: low, mid or high")
      ->check(CLI::IsMember(trial::rates_names()));
  app->add_option("--plot", options->plot, "Write a plot to this SVG file");
  add_rates_option(*app, options->record);
  app->add_flag("--json", options->json, "Write JSON");
  return {app, [options] { return run_trial(*options); }};
}

}  // namespace whichlink::cli
