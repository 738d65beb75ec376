#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "record/entries.h"

namespace whichlink::record {

/// Newer files are refused, older ones brought forward when they are opened for writing.
constexpr int kSchemaVersion = 4;

enum class Access { read, write };

/// One SQLite file. Every call that writes is one transaction, on the disk before it returns, so
/// nothing that was answered is lost however the program ends; another program's transaction is
/// waited for. A problem (a full disk, a file that is damaged, newer, another program's, or may
/// not be written) changes nothing.
class Record {
 public:
  /// With Access::write a missing file is made; with Access::read it is a problem.
  [[nodiscard]] static Result<Record> open(const std::string& path, Access access);
  Record(Record&&) noexcept;
  Record& operator=(Record&&) noexcept;
  Record(const Record&) = delete;
  Record& operator=(const Record&) = delete;
  ~Record();

  // Cases.
  [[nodiscard]] Result<Number> begin_case(const std::string& installation,
                                          const guide::CaseFile& events, const std::string& at);
  /// @param before  how many answers the case has by the caller's count: if the record has another
  /// number, somebody else went on with it, and that is a problem
  [[nodiscard]] Result<bool> add_answer(Number one, std::size_t before, const guide::Done& done,
                                        const std::string& at);
  /// Marks the last answer as taken back; it stays in the record.
  [[nodiscard]] Result<bool> take_back(Number one, std::size_t before, const std::string& at);
  [[nodiscard]] Result<bool> end_case(Number one, const CaseEnd& end, const std::string& at);
  /// The case as events, to go on with; a problem if there is none of that number.
  [[nodiscard]] Result<guide::CaseFile> events_of(Number one) const;
  /// The newest case that is open; nothing if none is.
  [[nodiscard]] Result<std::optional<Number>> last_open_case() const;
  [[nodiscard]] Result<std::vector<CaseHead>> cases(const Filter& filter) const;
  [[nodiscard]] Result<CaseStory> story_of(Number one) const;
  /// The newest case of that installation that has ended, on or before a day; nothing if none.
  [[nodiscard]] Result<std::optional<Number>> last_ended_case(const std::string& installation,
                                                              const std::string& until) const;

  /// Parts of that installation that were used or thrown out, oldest first.
  [[nodiscard]] Result<std::vector<GonePart>> gone_parts(const std::string& installation) const;

  // Checks.
  [[nodiscard]] Result<Number> begin_check(const CheckHead& head, const std::string& at);
  [[nodiscard]] Result<bool> add_check_answer(Number one, const CheckAnswer& answer);
  [[nodiscard]] Result<bool> take_back_check_answer(Number one);
  /// Results of routes so far; replaces those of before. @param ended  empty while under way
  [[nodiscard]] Result<bool> set_results(Number one, const std::vector<RouteResult>& routes,
                                         const std::string& ended);
  [[nodiscard]] Result<std::optional<Number>> last_open_check(
      const std::string& installation) const;
  [[nodiscard]] Result<CheckStory> check_story_of(Number one) const;
  [[nodiscard]] Result<std::vector<CheckHead>> checks(const Filter& filter) const;
  /// Every check of a route that passed or failed, oldest first.
  [[nodiscard]] Result<std::vector<RouteCheck>> checks_of(const std::string& installation,
                                                          const std::string& route) const;
  /// When the route last passed a check, or a case on it ended mended; nothing if never.
  [[nodiscard]] Result<std::optional<std::string>> last_pass(const std::string& installation,
                                                             const std::string& route) const;

  // Sessions.
  /// A code that the installation has already gets the new day and routes.
  [[nodiscard]] Result<bool> add_sessions(const std::string& installation,
                                          const std::vector<Session>& sessions,
                                          const std::string& at);
  /// From one day to another, both included, oldest first.
  [[nodiscard]] Result<std::vector<Session>> sessions(const std::string& installation,
                                                      const std::string& from,
                                                      const std::string& until) const;

  // Drills.
  /// A drill that has ended, whole. @return its number
  [[nodiscard]] Result<Number> add_drill(const Drilled& drill, const std::string& at);
  /// Oldest first. @param trainee  empty: everybody's
  [[nodiscard]] Result<std::vector<Drilled>> drills(const std::string& trainee) const;

  // Learning.
  /// The first day that this record has of the installation; nothing if it knows it not.
  [[nodiscard]] Result<std::optional<std::string>> watched_from(
      const std::string& installation) const;
  [[nodiscard]] Result<std::vector<ModeCount>> mode_counts(const std::string& installation) const;

 private:
  class File;
  explicit Record(std::unique_ptr<File> file);
  std::unique_ptr<File> file_;
};

}  // namespace whichlink::record
