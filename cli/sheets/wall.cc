#include <algorithm>
#include <memory>

#include "case_options.h"
#include "guide/case.h"
#include "load/load.h"
#include "sheet.h"
#include "sheets/wall_sheet.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

struct WallOptions {
  std::string model;
  std::string route;
  std::string heard;
  std::string listener;
  std::optional<double> days;
  std::optional<double> think;
  RecordOptions record;
};

[[noreturn]] void refuse_name(const std::string& option, const std::string& kind,
                              const std::string& given, const std::vector<std::string>& known) {
  throw BadInput{{{{option, 0, 0},
                   "unknown " + kind + " \"" + given + "\"",
                   one_of(known),
                   nearest(given, known)}}};
}

std::vector<RouteId> routes_of(const WallOptions& options, const chain::Chain& chain) {
  std::vector<RouteId> wanted;
  std::vector<std::string> names;
  for (const RouteId route : chain.routes.ids()) {
    names.push_back(chain.routes[route].name);
    if (options.route.empty() || options.route == names.back()) wanted.push_back(route);
  }
  if (wanted.empty()) refuse_name("--route", "route", options.route, names);
  return wanted;
}

const faults::Sense& sense_of(const moves::Setting& setting, RouteId route) {
  const SignalId signal = setting.chain().routes[route].signal;
  return setting.rules().senses[setting.rules().signals[signal].sense];
}

std::vector<std::string> complaints_known(const moves::Setting& setting,
                                          const std::vector<RouteId>& routes) {
  std::vector<std::string> names;
  const auto add = [&](const std::string& name) {
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  };
  for (const RouteId route : routes) {
    const faults::Sense& sense = sense_of(setting, route);
    for (std::size_t index = 1; index < sense.symptoms.size(); ++index) {
      add(sense.symptoms[index].name);
    }
    if (sense.elsewhere) add(sense.elsewhere->name);
  }
  return names;
}

// Who listens, by the sense of each route; a sense without such a listener has its first.
std::size_t listener_of(const WallOptions& options, const faults::Sense& sense) {
  for (std::size_t index = 0; index < sense.listeners.size(); ++index) {
    if (sense.listeners[index].name == options.listener) return index;
  }
  return 0;
}

void check_listener(const WallOptions& options, const moves::Setting& setting,
                    const std::vector<RouteId>& routes) {
  if (options.listener.empty()) return;
  std::vector<std::string> names;
  for (const RouteId route : routes) {
    for (const faults::Listener& one : sense_of(setting, route).listeners) {
      if (one.name == options.listener) return;
      if (std::find(names.begin(), names.end(), one.name) == names.end()) {
        names.push_back(one.name);
      }
    }
  }
  refuse_name("--listener", "listener", options.listener, names);
}

std::vector<chart::Complaint> complaints_of(const WallOptions& options,
                                            const moves::Setting& setting,
                                            const plan::Depth& depth) {
  const std::vector<RouteId> routes = routes_of(options, setting.chain());
  check_listener(options, setting, routes);
  std::vector<chart::Complaint> wanted;
  for (const RouteId route : routes) {
    const faults::Sense& sense = sense_of(setting, route);
    const std::size_t listener = listener_of(options, sense);
    if (options.heard.empty()) {
      for (chart::Complaint& one : sheets::wall_complaints(setting, route, listener, depth)) {
        wanted.push_back(std::move(one));
      }
      continue;
    }
    const std::optional<std::size_t> heard = sense.find(options.heard);
    if (!heard || *heard == 0) continue;
    for (chart::Complaint& one : chart::complaints_of(setting, route, listener, 0, depth)) {
      const auto& outcomes = one.outcomes;
      if (std::find(outcomes.begin(), outcomes.end(), *heard) != outcomes.end()) {
        wanted.push_back(std::move(one));
      }
    }
  }
  if (wanted.empty() && !options.heard.empty()) {
    refuse_name("--heard", "complaint", options.heard, complaints_known(setting, routes));
  }
  return wanted;
}

std::string wall_page(const WallOptions& options) {
  const moves::Installation installation = load_installation(options.model);
  const moves::Setting setting(
      installation, options.days.value_or(installation.rules.handling.default_days_since_pass));
  sheets::WallQuestion question;
  if (options.think) question.depth = depth_of(options.think);
  question.complaints = complaints_of(options, setting, question.depth);
  question.date = day_of_page(options.record);
  std::string page = sheets::wall_sheet(setting, question, [](double share) {
    if (is_terminal_err()) show_progress(share);
  });
  if (is_terminal_err()) end_progress();
  return page;
}

}  // namespace

Sheet wall_sheet(CLI::App& sheets) {
  const auto options = std::make_shared<WallOptions>();
  CLI::App* app = sheets.add_subcommand(
      "wall", "The plan for each complaint as a chart on one page, to follow without a computer");
  add_model_option(*app, options->model);
  app->add_option("--route", options->route, "Only the complaints of this route");
  app->add_option("--heard", options->heard, "Only this complaint, as rare as it may be");
  app->add_option("--listener", options->listener, "Who listens: practised or new");
  add_days_option(*app, options->days, "Days since every route last passed a check");
  add_think_option(*app, options->think);
  add_at_option(*app, options->record);
  return {app, [options] { return wall_page(*options); }};
}

}  // namespace whichlink::cli
