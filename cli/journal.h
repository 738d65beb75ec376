#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "guide/case.h"
#include "record/record.h"

namespace whichlink::cli {

/// Where a case is written down as it goes. Each call returns once it is on the disk, or throws
/// BadInput with nothing changed.
class Journal {
 public:
  Journal() = default;
  Journal(const Journal&) = delete;
  Journal& operator=(const Journal&) = delete;
  virtual ~Journal() = default;

  /// The case begins, or is gone on with.
  virtual void open(const guide::Case& one) = 0;
  virtual void answered(const guide::Case& one) = 0;
  virtual void took_back(const guide::Case& one) = 0;
  virtual void ended(const guide::Case& one, const guide::Ending& ending) = 0;
  /// Days since the route last passed, where the journal knows.
  [[nodiscard]] virtual std::optional<double> days_since_pass(const std::string& route) = 0;
  /// The command that goes on with the case later.
  [[nodiscard]] virtual std::string how_to_go_on() const = 0;
};

/// A case file, written anew after every answer.
[[nodiscard]] std::unique_ptr<Journal> file_journal(std::string path);

/// The moment that something is put on record as: as asked for by --at, or the clock's.
class Clock {
 public:
  explicit Clock(std::string fixed = "") : fixed_(std::move(fixed)) {}
  [[nodiscard]] std::string now() const;
  [[nodiscard]] double days() const;  ///< as in base/moment.h

 private:
  std::string fixed_;
};

/// A case of the record.
/// @param installation  its name
/// @param known  goes on with this case instead of beginning one
/// @param file  the record's, where it is not the usual one
[[nodiscard]] std::unique_ptr<Journal> record_journal(std::shared_ptr<record::Record> record,
                                                      std::string installation, Clock clock,
                                                      std::optional<record::Number> known,
                                                      std::string file);

}  // namespace whichlink::cli
