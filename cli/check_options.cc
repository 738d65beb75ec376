#include "check_options.h"

#include "case_options.h"

namespace whichlink::cli {

void add_check_options(CLI::App& app, CheckOptions& options) {
  app.add_option("--list", options.list, "Which list of the rules: daily or weekly");
  app.add_option("--listener", options.listener, "Who listens: practised or new");
  app.add_option("--trip", options.trip_db,
                 "From which change in dB an own threshold counts: 5 or 10")
      ->check([](const std::string& text) {
        return number_in(text) ? "" : "\"" + text + "\" is no trip level; expected 5 or 10";
      });
}

routine::CheckFile check_of(const CheckOptions& options) {
  routine::CheckFile events;
  events.list = options.list;
  events.list_place = {"--list", 0, 0};
  events.listener = options.listener;
  events.listener_place = {"--listener", 0, 0};
  events.trip_db = options.trip_db;
  events.trip_place = {"--trip", 0, 0};
  return events;
}

}  // namespace whichlink::cli
