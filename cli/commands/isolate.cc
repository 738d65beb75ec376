#include <memory>

#include "case_options.h"
#include "case_source.h"
#include "load/load.h"
#include "record_options.h"
#include "shell.h"
#include "sitting.h"

namespace whichlink::cli {
namespace {

struct IsolateOptions {
  CaseOptions about;
  RecordOptions record;
  std::string answers;
  std::string keep;
  std::string resume;       ///< empty: the newest open case of the record
  bool is_resumed = false;  ///< --resume was given
};

/// What a case begins from, and where it is written down.
struct CaseStart {
  guide::CaseFile events;
  std::shared_ptr<record::Record> record;
  std::optional<record::Number> known;
  std::string file;  ///< a case file that is gone on with
};

// The newest open case, or the one of that number.
void resume_from_record(const IsolateOptions& options, CaseStart& start) {
  start.record = existing_record(options.record.file_or_default());
  if (options.resume.empty()) {
    start.known = must(start.record->last_open_case());
    if (!start.known) {
      refuse(options.record.file_or_default(), "has no case that is still open",
             "a case to go on with; whichlink log lists them");
    }
  } else {
    start.known = std::stoll(options.resume);
  }
  start.events = must(start.record->events_of(*start.known));
}

CaseStart start_of(const IsolateOptions& options, bool at_terminal) {
  CaseStart start;
  CaseOptions about = options.about;
  if (options.is_resumed && (options.resume.empty() || is_record_number(options.resume))) {
    resume_from_record(options, start);
  } else if (options.is_resumed) {
    start.file = options.resume;
    start.events = must(load::case_file(options.resume));
  }
  start.events = events_from(about, std::move(start.events));
  if (start.record) return start;
  start.record =
      record_for(options.record, at_terminal && options.keep.empty() && start.file.empty());
  return start;
}

int isolate(const IsolateOptions& options) {
  const std::unique_ptr<Prompt> prompt = prompt_for(options.answers);
  CaseStart start = start_of(options, prompt->asks_again());
  if (start.events.model.empty()) {
    refuse("--model", "is missing", "an installation, or a case to --resume");
  }
  const moves::Installation installation =
      by_record(load_installation(start.events.model), start.record.get(), options.record.clock());
  Journals journals;
  if (start.record) {
    journals.push_back(record_journal(start.record, installation.name, options.record.clock(),
                                      start.known, options.record.file));
  }
  const std::string file = options.keep.empty() ? start.file : options.keep;
  if (!file.empty()) journals.push_back(file_journal(file));
  sit(installation, std::move(start.events), {options.about.json, depth_of(options.about.think)},
      *prompt, journals);
  return kDone;
}

}  // namespace

Command isolate_command(CLI::App& program) {
  const auto options = std::make_shared<IsolateOptions>();
  CLI::App* app = program.add_subcommand(
      "isolate", "Find the bad link step by step, mend it, and put everything back");
  add_case_options(*app, options->about);
  app->add_option("--answers", options->answers,
                  "Answers from a file, one a line, instead of a terminal");
  add_record_option(*app, options->record);
  add_at_option(*app, options->record);
  app->add_option("--keep", options->keep, "Keep the case in this file after every answer");
  add_think_option(*app, options->about.think);
  const CLI::Option* resume = app->add_option("--resume", options->resume,
                                              "Go on with the newest open case of the record, with "
                                              "the case of this number, or with a kept file")
                                  ->expected(0, 1);
  return {app, [options, resume] {
            options->is_resumed = resume->count() > 0;
            return isolate(*options);
          }};
}

}  // namespace whichlink::cli
