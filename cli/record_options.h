#pragma once

#include <CLI/CLI.hpp>
#include <memory>
#include <optional>
#include <string>

#include "history/learned.h"
#include "journal.h"
#include "record/record.h"

namespace whichlink::cli {

/// `--record FILE` and `--at MOMENT`, shared by every command that reads or writes the record.
struct RecordOptions {
  std::string file;  ///< empty: not said
  std::string at;    ///< empty: now

  [[nodiscard]] Clock clock() const { return Clock(at); }
  [[nodiscard]] std::string file_or_default() const;
};

void add_record_option(CLI::App& app, RecordOptions& options);
void add_at_option(CLI::App& app, RecordOptions& options);
/// For options that take a day: "" or what is wrong with it.
[[nodiscard]] std::string day_problem(const std::string& text);

/// In the user's data folder.
[[nodiscard]] std::string default_record();
/// Opens it; makes the file and its folder when it is to be written.
[[nodiscard]] std::shared_ptr<record::Record> open_record(const std::string& path,
                                                          record::Access access);

/// The rates of an installation by what a record has of it.
struct Learned {
  std::string from;  ///< the first day on record; empty: none
  double years = 0;
  std::vector<history::LearnedRate> rates;
};
[[nodiscard]] Learned learned_from(const record::Record& record,
                                   const moves::Installation& installation, const Clock& clock);

}  // namespace whichlink::cli
