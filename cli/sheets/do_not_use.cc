#include <memory>

#include "base/moment.h"
#include "case_options.h"
#include "case_source.h"
#include "sheet.h"
#include "sheets/notice_sheet.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

struct NoticeOptions {
  CaseSource source;
  std::string model;
  std::vector<std::string> routes;
  std::string heard;
  std::string since;
};

sheets::Notice of_case(const NoticeOptions& options) {
  const FoundCase found = found_case(options.source);
  sheets::Notice notice = sheets::notice_of({found.one.get()});
  notice.since = found.opened;
  return notice;
}

sheets::Notice of_routes(const NoticeOptions& options) {
  if (options.model.empty()) refuse("--model", "is missing", "an installation, or a --case");
  if (options.routes.empty()) refuse("--route", "is missing", "a route that is not to be used");
  if (options.heard.empty()) refuse("--heard", "is missing", "what is heard there: a symptom");
  const moves::Installation installation = load_installation(options.model);
  std::vector<std::unique_ptr<guide::Case>> cases;
  std::vector<const guide::Case*> shown;
  for (const std::string& route : options.routes) {
    guide::CaseFile events;
    events.route = route;
    events.route_place = {"--route", 0, 0};
    events.complaint = report_from(options.heard);
    events.complaint_place = {"--heard", 0, 0};
    cases.push_back(must(guide::Case::open(installation, std::move(events))));
    shown.push_back(cases.back().get());
  }
  return sheets::notice_of(shown);
}

std::string notice_page(const NoticeOptions& options) {
  sheets::Notice notice = options.source.which.empty() ? of_routes(options) : of_case(options);
  notice.date = day_of_page(options.source.record);
  if (!options.since.empty()) notice.since = options.since;
  if (notice.since.empty()) notice.since = notice.date;
  return sheets::notice_sheet(notice);
}

}  // namespace

Sheet do_not_use_sheet(CLI::App& sheets) {
  const auto options = std::make_shared<NoticeOptions>();
  CLI::App* app = sheets.add_subcommand(
      "do-not-use", "A notice for a door or a jack: what is out of use, and what works meanwhile");
  add_case_source(*app, options->source);
  app->add_option("--model", options->model,
                  "Without a case: the installation, a file or the name of one that comes with "
                  "whichlink");
  app->add_option("--route", options->routes, "A route that is not to be used; as often as needed");
  app->add_option("--heard", options->heard, "What is heard there: a symptom, or \"25 dB\"");
  app->add_option("--since", options->since, "Since when, as 2026-11-26T08:30")
      ->check([](const std::string& text) {
        return moment_from(text)
                   ? ""
                   : "\"" + text + "\" is no moment; expected one as 2026-11-26T08:30";
      });
  return {app, [options] { return notice_page(*options); }};
}

}  // namespace whichlink::cli
