#include <algorithm>
#include <memory>

#include "record_options.h"
#include "render/log_pages.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

constexpr std::size_t kMostAsked = 1'000'000;

struct LogOptions {
  RecordOptions record;
  record::Filter filter;
  std::optional<record::Number> one_case, one_check;
  bool checks = false;
  bool sessions = false;
  bool csv = false;
  bool json = false;
};

/// The same values in the form that was asked for.
template <class Value>
int tell(const LogOptions& options, const Value& value,
         std::string (*page)(const Value&, const render::Style&), std::string (*csv)(const Value&),
         render::Json (*json)(const Value&)) {
  if (options.json) {
    show(render::to_text(json(value)));
  } else {
    show(options.csv ? csv(value) : page(value, style_of_output()));
  }
  return kDone;
}

int log(const LogOptions& options) {
  if (options.csv && options.json) refuse("--csv", "does not go with --json", "one of them");
  const auto record = open_record(options.record.file_or_default(), record::Access::read);
  if (options.one_case) {
    return tell(options, must(record->story_of(*options.one_case)), render::case_story_page,
                render::case_story_csv, render::case_story_json);
  }
  if (options.one_check) {
    return tell(options, must(record->check_story_of(*options.one_check)), render::check_story_page,
                render::check_story_csv, render::check_story_json);
  }
  if (options.checks) {
    return tell(options, must(record->checks(options.filter)), render::checks_page,
                render::checks_csv, render::checks_json);
  }
  if (options.sessions) {
    if (options.filter.installation.empty()) {
      refuse("--installation", "is missing", "the name of the installation that they are of");
    }
    const record::Filter& filter = options.filter;
    return tell(
        options,
        must(record->sessions(filter.installation, filter.from.empty() ? "1970-01-01" : filter.from,
                              filter.until.empty() ? "9999-12-31" : filter.until)),
        render::sessions_page, render::sessions_csv, render::sessions_json);
  }
  return tell(options, must(record->cases(options.filter)), render::cases_page, render::cases_csv,
              render::cases_json);
}

}  // namespace

Command log_command(CLI::App& program) {
  const auto options = std::make_shared<LogOptions>();
  CLI::App* app =
      program.add_subcommand("log", "List what is on record, tell one case, or export it");
  add_record_option(*app, options->record);
  app->add_option("--case", options->one_case, "Tell the case of this number");
  app->add_option("--check", options->one_check, "Tell the check of this number");
  app->add_flag("--checks", options->checks, "List checks instead of cases");
  app->add_flag("--sessions", options->sessions, "List the sessions of an installation instead");
  app->add_option("--installation", options->filter.installation, "Only of this installation");
  app->add_option("--route", options->filter.route, "Only on this route");
  app->add_option("--from", options->filter.from, "Only from this day on")->check(day_problem);
  app->add_option("--until", options->filter.until, "Only until this day, that day included")
      ->check(day_problem);
  app->add_option("--ending", options->filter.ending,
                  "Only those that ended so: " + one_of(record::ending_names()))
      ->check([](const std::string& text) {
        const std::vector<std::string>& known = record::ending_names();
        const bool is_known = std::find(known.begin(), known.end(), text) != known.end();
        return is_known ? "" : "\"" + text + "\" is no ending; expected " + one_of(known);
      });
  app->add_option("--cause", options->filter.cause,
                  "Only with these words in a cause that was believed with 5 % or more");
  app->add_option("--most", options->filter.most, "The newest so many (default 50; 0: all)")
      ->check(CLI::Range(std::size_t{0}, kMostAsked));
  options->filter.most = 50;
  app->add_flag("--csv", options->csv, "Write comma-separated values");
  app->add_flag("--json", options->json, "Write JSON");
  return {app, [options] { return log(*options); }};
}

}  // namespace whichlink::cli
