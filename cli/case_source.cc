#include "case_source.h"

#include <algorithm>

#include "load/load.h"
#include "shell.h"

namespace whichlink::cli {

bool is_record_number(const std::string& text) {
  constexpr std::size_t kMostDigits = 15;
  return !text.empty() && text.size() <= kMostDigits &&
         std::all_of(text.begin(), text.end(),
                     [](char letter) { return letter >= '0' && letter <= '9'; });
}

void add_case_source(CLI::App& app, CaseSource& source) {
  app.add_option("--case", source.which, "The case: a file, or its number on record");
  add_record_option(app, source.record);
  add_at_option(app, source.record);
}

FoundCase found_case(const CaseSource& source) {
  FoundCase found;
  guide::CaseFile events;
  std::shared_ptr<record::Record> record;
  if (is_record_number(source.which)) {
    record = open_record(source.record.file_or_default(), record::Access::read);
    const record::Number number = std::stoll(source.which);
    events = must(record->events_of(number));
    found.opened = must(record->story_of(number)).head.opened;
    found.number = source.which;
  } else {
    if (!source.record.file.empty()) {
      refuse("--case", "\"" + source.which + "\" is no number of a case on record", "its number");
    }
    events = must(load::case_file(source.which));
  }
  if (events.model.empty()) refuse(source.which, "names no installation", "a \"model\" entry");
  found.installation = std::make_unique<moves::Installation>(
      by_record(load_installation(events.model), record.get(), source.record.clock()));
  found.one = must(guide::Case::open(*found.installation, std::move(events)));
  return found;
}

}  // namespace whichlink::cli
