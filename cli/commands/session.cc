#include <algorithm>
#include <memory>

#include "base/moment.h"
#include "load/load.h"
#include "record_options.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

struct SessionOptions {
  RecordOptions record;
  std::string model;
  std::string code;
  std::string day;
  std::vector<std::string> routes;
  std::string from;
};

int enter(const SessionOptions& options) {
  const moves::Installation installation = load_installation(options.model);
  std::vector<record::Session> sessions;
  if (!options.from.empty()) {
    sessions = must(load::sessions_file(options.from, installation.chain));
  } else {
    const std::string day =
        options.day.empty() ? day_of(options.record.clock().now()) : options.day;
    sessions.push_back(must(
        load::session_from({options.code, day, options.routes}, installation.chain, {"", 0, 0})));
  }
  const auto record = open_record(options.record.file_or_default(), record::Access::write);
  must(record->add_sessions(installation.name, sessions, options.record.clock().now()));
  show(sessions.size() == 1
           ? "Session " + sessions.front().code + " of " + sessions.front().day + " is on record.\n"
           : std::to_string(sessions.size()) + " sessions are on record.\n");
  return kDone;
}

}  // namespace

Command session_command(CLI::App& program) {
  const auto options = std::make_shared<SessionOptions>();
  CLI::App* app = program.add_subcommand(
      "session", "Put on record which routes a session used: a code and a day, no names");
  app->add_option("--model", options->model,
                  "The installation: a file, or the name of one that comes with whichlink")
      ->required();
  CLI::Option* code =
      app->add_option("--code", options->code,
                      "The session's code: letters, digits and dashes, one digit at least");
  app->add_option("--on", options->day, "Its day, as 2026-11-26 (default: today)")
      ->check(day_problem);
  app->add_option("--route", options->routes, "A route that it used; once for each");
  app->add_option("--from", options->from,
                  "Many at once from a CSV file: code,day,routes; routes parted by semicolons")
      ->excludes(code);
  add_record_option(*app, options->record);
  add_at_option(*app, options->record);
  return {app, [options] {
            if (options->from.empty() && options->code.empty()) {
              refuse("--code", "is missing", "a session's code, or --from FILE");
            }
            return enter(*options);
          }};
}

}  // namespace whichlink::cli
