#pragma once

#include <memory>
#include <string>

#include "guide/case.h"
#include "record_options.h"

namespace whichlink::cli {

/// `--case`: a case of a file, or the one of that number on record.
struct CaseSource {
  std::string which;
  RecordOptions record;
};

/// A case as it stands, with what its source knows of it.
struct FoundCase {
  std::unique_ptr<moves::Installation> installation;  ///< by the record's rates, where it has one
  std::unique_ptr<guide::Case> one;
  std::string number;  ///< empty: of a file
  std::string opened;  ///< a moment; empty: not known
};

/// Digits alone, and few enough to be a number of a record.
[[nodiscard]] bool is_record_number(const std::string& text);
void add_case_source(CLI::App& app, CaseSource& source);
[[nodiscard]] FoundCase found_case(const CaseSource& source);

}  // namespace whichlink::cli
