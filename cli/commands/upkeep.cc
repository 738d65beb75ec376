#include <algorithm>
#include <memory>

#include "base/moment.h"
#include "case_options.h"
#include "history/found_by_check.h"
#include "record_options.h"
#include "render/upkeep_pages.h"
#include "shell.h"

/// What the record tells: rates, lookback, interval.
namespace whichlink::cli {
namespace {

constexpr double kMostMinutes = 1'000;

struct UpkeepOptions {
  RecordOptions record;
  std::string model;
  bool json = false;
};

void add_options(CLI::App& app, UpkeepOptions& options) {
  app.add_option("--model", options.model,
                 "The installation: a file, or the name of one that comes with whichlink")
      ->required();
  add_record_option(app, options.record);
  add_at_option(app, options.record);
  app.add_flag("--json", options.json, "Write JSON");
}

int rates(const UpkeepOptions& options) {
  const moves::Installation installation = load_installation(options.model);
  const auto record = open_record(options.record.file_or_default(), record::Access::read);
  const Learned learned = learned_from(*record, installation, options.record.clock());
  const render::RatesTitle title{installation.name, learned.from,
                                 day_of(options.record.clock().now()), learned.years};
  show(options.json ? render::to_text(render::rates_json(title, learned.rates))
                    : render::rates_page(title, learned.rates, style_of_output()));
  return kDone;
}

struct LookBackOptions {
  UpkeepOptions about;
  std::string found;
  std::optional<record::Number> one_case;
  double recall = .1;  // judged: one in ten
};

record::Number case_of(const LookBackOptions& options, const record::Record& record,
                       const std::string& installation) {
  if (options.one_case) return *options.one_case;
  const auto last = must(record.last_ended_case(installation, options.found));
  if (last) return *last;
  refuse(options.about.record.file_or_default(),
         "has no case of " + installation + " that had ended by " + options.found,
         "a case that says what was found; whichlink isolate makes one");
}

int lookback(const LookBackOptions& options) {
  const moves::Installation judged = load_installation(options.about.model);
  const auto record = open_record(options.about.record.file_or_default(), record::Access::read);
  const record::Number number = case_of(options, *record, judged.name);
  const record::CaseStory story = must(record->story_of(number));
  if (story.head.installation != judged.name) {
    refuse("--case", "case " + std::to_string(number) + " is of " + story.head.installation,
           "a case of " + judged.name);
  }
  if (story.head.ending == record::kOpen) {
    refuse("--case", "case " + std::to_string(number) + " is still open",
           "a case that has ended; whichlink isolate --resume " + std::to_string(number));
  }
  const Learned learned = learned_from(*record, judged, options.about.record.clock());
  const moves::Installation installation = history::with_learned(judged, learned.rates);
  const moves::Setting setting(installation, 0);
  history::Found found;
  found.causes = story.end.causes;
  found.start = learned.from;
  found.found = options.found;
  found.route = story.head.route;
  if (story.head.days_since_pass) {
    found.said_pass = moment_from(story.head.opened)->days - *story.head.days_since_pass;
  }
  found.sessions = must(record->sessions(judged.name, "1970-01-01", found.found));
  const history::LookBack back = history::look_back(
      setting, found, history::found_by_check(setting),
      [&](const std::string& route) { return must(record->checks_of(judged.name, route)); });
  const render::LookBackTitle title{judged.name, story.head.route, static_cast<std::size_t>(number),
                                    options.recall};
  show(options.about.json ? render::to_text(render::lookback_json(title, back))
                          : render::lookback_page(title, back, style_of_output()));
  return kDone;
}

struct IntervalOptions {
  UpkeepOptions about;
  std::string listener;
  std::string plot;
  std::string list;
  std::optional<double> check_minutes;
};

int interval(const IntervalOptions& options) {
  moves::Installation installation = load_installation(options.about.model);
  if (!installation.use) {
    refuse(options.about.model, "its rules do not say how much an installation is used",
           "a \"use\" entry, as docs/formats.md describes it");
  }
  render::RhythmTitle title;
  installation = by_record(std::move(installation), options.about.record);
  title.learned = !options.about.record.file.empty();
  const moves::Setting setting(installation, 0);
  title.installation = installation.name;
  title.listener = options.listener.empty() ? history::usual_listener(setting) : options.listener;
  title.use = *installation.use;
  const std::size_t list = must(history::list_of(setting, options.list));
  const double check_minutes =
      options.check_minutes.value_or(history::minutes_of_check(setting, list));
  const history::Rhythm rhythm = history::rhythm_of(
      setting,
      history::unrevealed_faults(setting, history::found_on_list(setting, list, title.listener)),
      check_minutes);
  if (!options.plot.empty()) keep_file(options.plot, render::rhythm_plot(title, rhythm));
  show(options.about.json ? render::to_text(render::rhythm_json(title, rhythm))
                          : render::rhythm_page(title, rhythm, style_of_output()));
  return kDone;
}

}  // namespace

Command rates_command(CLI::App& program) {
  const auto options = std::make_shared<UpkeepOptions>();
  CLI::App* app = program.add_subcommand(
      "rates", "How often each kind of fault comes: as judged, and as the record has it");
  add_options(*app, *options);
  return {app, [options] { return rates(*options); }};
}

Command lookback_command(CLI::App& program) {
  const auto options = std::make_shared<LookBackOptions>();
  CLI::App* app = program.add_subcommand(
      "lookback", "Which sessions since the last pass are in doubt, once a fault was found");
  add_options(*app, options->about);
  app->add_option("--found", options->found, "The day on which the fault was found")
      ->required()
      ->check(day_problem);
  app->add_option("--case", options->one_case,
                  "The case that found it (default: the last that had ended by then)");
  app->add_option("--recall", options->recall,
                  "Recall sessions with this chance or more of a fault on their way (.1)")
      ->check(CLI::Range(0.0, 1.0));
  return {app, [options] { return lookback(*options); }};
}

Command interval_command(CLI::App& program) {
  const auto options = std::make_shared<IntervalOptions>();
  CLI::App* app = program.add_subcommand(
      "interval", "What checking each day, week or month costs, and which interval is cheapest");
  add_options(*app, options->about);
  app->add_option("--list", options->list, "The list that is gone through (default: the first)");
  app->add_option("--listener", options->listener, "Who listens: practised or new");
  app->add_option("--check-minutes", options->check_minutes,
                  "What one check takes (default: as the list is reckoned)")
      ->check(CLI::Range(0.01, kMostMinutes));
  app->add_option("--plot", options->plot, "Write a plot to this SVG file");
  return {app, [options] { return interval(*options); }};
}

}  // namespace whichlink::cli
