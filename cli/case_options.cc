#include "case_options.h"

#include <charconv>

#include "load/load.h"
#include "shell.h"

namespace whichlink::cli {

namespace {

constexpr double kMostDays = 36500;
constexpr double kMostThinking = 3600;

}  // namespace

std::optional<double> number_in(const std::string& text) {
  double value = 0;
  const char* first = text.data();
  const char* end = first + text.size();
  if (text.size() > 1 && *first == '+') ++first;
  const auto [stopped, error] = std::from_chars(first, end, value);
  if (error != std::errc() || stopped != end) return std::nullopt;
  return value;
}

void add_days_option(CLI::App& app, std::optional<double>& days, const std::string& help) {
  app.add_option("--since-pass", days, help)->check([](const std::string& text) {
    const std::optional<double> given = number_in(text);
    const bool fine = given && *given >= 0 && *given <= kMostDays;
    return fine ? "" : "\"" + text + "\" is no number of days; expected 0 to 36500";
  });
}

void add_case_options(CLI::App& app, CaseOptions& options) {
  app.add_option("--model", options.model,
                 "The installation: a file, or the name of one that comes with whichlink");
  app.add_option("--route", options.route, "The route that is complained of");
  app.add_option("--heard", options.heard, "What is heard: a symptom, or a drop such as \"25 dB\"");
  add_days_option(app, options.days, "Days since the route last passed a check");
  app.add_option("--listener", options.listener, "Who listens: practised or new");
  app.add_option("--aim", options.aim,
                 "What the next move saves: time (the default), split (the best split a minute), "
                 "or moves")
      ->check([](const std::string& text) {
        return plan::aim_of(text) ? ""
                                  : "\"" + text + "\" is no aim; expected time, split or moves";
      });
  app.add_flag("--json", options.json, "Write JSON");
}

void add_think_option(CLI::App& app, std::optional<double>& seconds) {
  app.add_option("--think", seconds,
                 "Search ahead at each step, about so many seconds; the same figure always gives "
                 "the same answer")
      ->check([](const std::string& text) {
        const std::optional<double> given = number_in(text);
        const bool fine = given && *given >= 0 && *given <= kMostThinking;
        return fine ? "" : "\"" + text + "\" is no time to think; expected 0 to 3600 seconds";
      });
}

plan::Depth depth_of(const std::optional<double>& seconds) {
  return seconds ? plan::depth_of(*seconds) : plan::Depth{};
}

guide::Report report_from(const std::string& text) {
  std::string rest = text;
  for (const char* lead : {"weak by ", "weak ", "-"}) {
    if (rest.rfind(lead, 0) == 0) {
      rest.erase(0, std::string(lead).size());
      break;
    }
  }
  double drop = 0;
  const char* end = rest.data() + rest.size();
  const auto [stopped, error] = std::from_chars(rest.data(), end, drop);
  std::string unit(stopped, end);
  std::erase(unit, ' ');
  const bool says_decibel = unit == "dB" || unit == "db" || (unit.empty() && text[0] == '-');
  const bool is_drop = drop > 0 && drop <= guide::kMostDropDb;
  if (error == std::errc() && says_decibel && is_drop) return {"weak", drop};
  return {text, std::nullopt};
}

guide::CaseFile events_from(const CaseOptions& options) {
  guide::CaseFile events;
  if (!options.evidence.empty()) events = must(load::case_file(options.evidence));
  return events_from(options, std::move(events));
}

guide::CaseFile events_from(const CaseOptions& options, guide::CaseFile events) {
  if (!options.model.empty()) events.model = options.model;
  if (!options.listener.empty()) {
    events.listener = options.listener;
    events.listener_place = {"--listener", 0, 0};
  }
  if (!options.route.empty()) {
    events.route = options.route;
    events.route_place = {"--route", 0, 0};
  }
  if (!options.heard.empty()) {
    events.complaint = report_from(options.heard);
    events.complaint_place = {"--heard", 0, 0};
  }
  if (!options.aim.empty()) events.aim = plan::aim_of(options.aim);
  if (options.days) events.days_since_pass = options.days;
  return events;
}

}  // namespace whichlink::cli
