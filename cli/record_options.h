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
/// `--record` and `--at` of a command that only reads rates from it.
void add_rates_option(CLI::App& app, RecordOptions& options);
void add_at_option(CLI::App& app, RecordOptions& options);
/// For options that take a day: "" or what is wrong with it.
[[nodiscard]] std::string day_problem(const std::string& text);

/// In the user's data folder.
[[nodiscard]] std::string default_record();
/// Opens it; makes the file and its folder when it is to be written.
[[nodiscard]] std::shared_ptr<record::Record> open_record(const std::string& path,
                                                          record::Access access);

/// One that is there; made writable, for going on with what is in it.
[[nodiscard]] std::shared_ptr<record::Record> existing_record(const std::string& path);
/// The record that was asked for; or, where `usual`, the user's own: if that cannot be opened the
/// person is told and goes on without, for somebody may be waiting. Null: none.
[[nodiscard]] std::shared_ptr<record::Record> record_for(const RecordOptions& options, bool usual);

/// The rates of an installation by what a record has of it.
struct Learned {
  std::string from;  ///< the first day on record; empty: none
  double years = 0;
  std::vector<history::LearnedRate> rates;
};
[[nodiscard]] Learned learned_from(const record::Record& record,
                                   const moves::Installation& installation, const Clock& clock);
/// The installation by those rates. @param record  null: as it is
[[nodiscard]] moves::Installation by_record(moves::Installation installation,
                                            const record::Record* record, const Clock& clock);
/// The same with the record that `--record` names, if it names one.
[[nodiscard]] moves::Installation by_record(moves::Installation installation,
                                            const RecordOptions& options);

}  // namespace whichlink::cli
