#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <optional>
#include <string>

#include "record/record.h"

namespace whichlink::record {

using Statement = SQLite::Statement;

/// The open file. Statements and transactions of the other sources of this room go through `read`
/// and `write`, which turn what the library throws into one line.
class Record::File {
 public:
  File(std::string path, Access access);

  [[nodiscard]] SQLite::Database& database() { return database_; }
  [[nodiscard]] Statement ask(const char* sql) { return {database_, sql}; }

  /// The id of an installation; nothing if the record knows it not.
  [[nodiscard]] std::optional<Number> installation(const std::string& name);
  /// The same, made known from this moment on (or from an earlier one than before).
  [[nodiscard]] Number known_installation(const std::string& name, const std::string& at);

  template <class Value, class Work>
  Result<Value> read(Work work) {
    try {
      return work();
    } catch (const SQLite::Exception& error) {
      return tl::unexpected(Problems{problem_of(error)});
    }
  }

  /// One transaction; rolled back where `work` returns a problem or throws.
  template <class Value, class Work>
  Result<Value> write(Work work) {
    try {
      SQLite::Transaction change(database_, SQLite::TransactionBehavior::IMMEDIATE);
      Result<Value> result = work();
      if (result) change.commit();
      return result;
    } catch (const SQLite::Exception& error) {
      return tl::unexpected(Problems{problem_of(error)});
    }
  }

  [[nodiscard]] Problem problem(const std::string& what, const std::string& expected) const {
    return {{path_, 0, 0}, what, expected, ""};
  }
  [[nodiscard]] Problem problem_of(const SQLite::Exception& error) const {
    return problem_of(path_, error);
  }
  [[nodiscard]] static Problem problem_of(const std::string& path, const SQLite::Exception& error);

 private:
  std::string path_;
  SQLite::Database database_;
};

/// The column's text, or nothing where it is null.
[[nodiscard]] inline std::string text_of(const SQLite::Column& column) {
  return column.isNull() ? std::string() : column.getString();
}

/// The column's number, or nothing where it is null.
[[nodiscard]] inline std::optional<double> number_of(const SQLite::Column& column) {
  return column.isNull() ? std::nullopt : std::optional(column.getDouble());
}

inline void bind_number(Statement& statement, int index, const std::optional<double>& number) {
  if (number) {
    statement.bind(index, *number);
  } else {
    statement.bind(index);
  }
}

/// Thrown inside File's constructor: the file is sound, but not one that we may use.
struct Refused {
  Problem problem;
};

}  // namespace whichlink::record
