#include "record_options.h"

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

}  // namespace whichlink::cli
