#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "journal.h"
#include "record/record.h"
#include "routine/round.h"

namespace whichlink::cli {

/// Writes a check down as it goes.
class CheckJournal {
 public:
  /// @param known  goes on with this check, of which the record has these answers
  CheckJournal(std::shared_ptr<record::Record> record, Clock clock,
               std::optional<record::Number> known, std::vector<record::CheckAnswer> answers);

  /// Begins a check that is not on record yet.
  void open(const routine::Round& round, const std::string& installation);
  /// Brings the record up to what the round has taken: answers taken back are marked, new ones
  /// added, and results of routes renewed. On the disk when it returns.
  /// @param ended  the check is through
  void keep(const routine::Round& round, bool ended);

 private:
  std::shared_ptr<record::Record> record_;
  Clock clock_;
  std::optional<record::Number> number_;
  std::vector<record::CheckAnswer> kept_;  ///< without times
};

}  // namespace whichlink::cli
