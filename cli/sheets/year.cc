#include <memory>

#include "base/moment.h"
#include "sheet.h"
#include "sheets/year_sheet.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

constexpr int kFirstYear = 1970;
constexpr double kChecksBefore = 366;  // days for which a check of the year before may still count

struct YearOptions {
  std::string model;
  int year = 0;
  RecordOptions record;
};

history::YearRecord read(const record::Record& record, const std::string& installation, int year) {
  const std::string first = std::to_string(year) + "-01-01";
  const std::string last = std::to_string(year) + "-12-31";
  history::YearRecord all;
  all.year = year;
  record::Filter filter;
  filter.installation = installation;
  filter.from = first;
  filter.until = last;
  for (const record::CaseHead& head : must(record.cases(filter))) {
    all.cases.push_back(must(record.story_of(head.number)));
  }
  if (year > kFirstYear) filter.from = day_text(moment_from(first)->days - kChecksBefore);
  all.checks = must(record.checks(filter));
  all.sessions = must(record.sessions(installation, first, last));
  return all;
}

std::string year_page(const YearOptions& options) {
  const moves::Installation installation = load_installation(options.model);
  const auto record = open_record(options.record.file_or_default(), record::Access::read);
  const history::Year year =
      history::year_of(installation.rules, read(*record, installation.name, options.year));
  return sheets::year_sheet(installation.name, year, day_of_page(options.record));
}

}  // namespace

Sheet year_sheet(CLI::App& sheets) {
  const auto options = std::make_shared<YearOptions>();
  CLI::App* app =
      sheets.add_subcommand("year", "A year on record: faults, minutes lost, checks on time");
  add_model_option(*app, options->model);
  app->add_option("--year", options->year, "Which year, as 2026")
      ->required()
      ->check([](const std::string& text) {
        const bool fine = text.size() == 4 && moment_from(text + "-01-01");
        return fine ? "" : "\"" + text + "\" is no year; expected one as 2026";
      });
  add_record_option(*app, options->record);
  add_at_option(*app, options->record);
  return {app, [options] { return year_page(*options); }};
}

}  // namespace whichlink::cli
