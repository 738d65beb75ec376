#include "record_options.h"

#include <algorithm>
#include <filesystem>

#include "base/moment.h"
#include "shell.h"

namespace whichlink::cli {

std::string RecordOptions::file_or_default() const {
  return file.empty() ? default_record() : file;
}

void add_record_option(CLI::App& app, RecordOptions& options) {
  app.add_option("--record", options.file,
                 "The record, an SQLite file (default: record.db in the user's data folder)");
}

void add_rates_option(CLI::App& app, RecordOptions& options) {
  app.add_option("--record", options.file, "Use the rates as this record has them");
  add_at_option(app, options);
}

void add_at_option(CLI::App& app, RecordOptions& options) {
  app.add_option("--at", options.at, "When it happened, as 2026-11-26T08:30 (default: now)")
      ->check([](const std::string& text) {
        return moment_from(text)
                   ? ""
                   : "\"" + text + "\" is no moment; expected one as 2026-11-26T08:30";
      });
}

std::string day_problem(const std::string& text) {
  const bool is_day = moment_from(text) && day_of(text) == text;
  return is_day ? "" : "\"" + text + "\" is no day; expected one as 2026-11-26";
}

std::string default_record() {
  return data_home() + "/whichlink/record.db";
}

std::shared_ptr<record::Record> open_record(const std::string& path, record::Access access) {
  const std::filesystem::path folder = std::filesystem::path(path).parent_path();
  std::error_code error;
  if (access == record::Access::write && !folder.empty()) {
    std::filesystem::create_directories(folder, error);
    if (error) {
      refuse(path, "cannot be made: " + error.message(), "a file in a folder that can be written");
    }
  }
  if (access == record::Access::read && !std::filesystem::exists(path, error)) {
    refuse(path, "is not there", "a record; isolate, check and session begin one");
  }
  if (std::filesystem::is_directory(path, error)) refuse(path, "is a folder", "a file");
  return std::make_shared<record::Record>(must(record::Record::open(path, access)));
}

std::shared_ptr<record::Record> existing_record(const std::string& path) {
  std::error_code error;
  if (!std::filesystem::exists(path, error)) {
    refuse(path, "is not there", "a record with something to go on with");
  }
  return open_record(path, record::Access::write);
}

std::shared_ptr<record::Record> record_for(const RecordOptions& options, bool usual) {
  if (!options.file.empty()) return open_record(options.file, record::Access::write);
  if (!usual) return nullptr;
  try {
    return open_record(default_record(), record::Access::write);
  } catch (const BadInput& bad) {
    around().err << to_line(bad.problems.front()) << "\nThis is not put on record.\n";
    return nullptr;
  }
}

Learned learned_from(const record::Record& record, const moves::Installation& installation,
                     const Clock& clock) {
  Learned learned;
  const std::optional<std::string> from = must(record.watched_from(installation.name));
  if (from) {
    learned.from = day_of(*from);
    learned.years = std::max(0.0, clock.days() - moment_from(*from)->days) / kDaysPerYear;
  }
  learned.rates = history::learned_rates(installation, must(record.mode_counts(installation.name)),
                                         learned.years);
  return learned;
}

moves::Installation by_record(moves::Installation installation, const record::Record* record,
                              const Clock& clock) {
  if (record == nullptr) return installation;
  const Learned learned = learned_from(*record, installation, clock);
  return history::with_learned(std::move(installation), learned.rates);
}

moves::Installation by_record(moves::Installation installation, const RecordOptions& options) {
  if (options.file.empty()) return installation;
  const auto record = open_record(options.file, record::Access::read);
  return by_record(std::move(installation), record.get(), options.clock());
}

}  // namespace whichlink::cli
