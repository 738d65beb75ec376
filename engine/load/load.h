#pragma once

#include <string>
#include <string_view>

#include "base/problem.h"
#include "drill/lesson.h"
#include "faults/rules.h"
#include "guide/case_file.h"
#include "moves/installation.h"
#include "record/entries.h"
#include "stock/stores_file.h"

/// YAML to values. Formats and limits: docs/formats.md. Every function returns a valid value or
/// every problem found (at most 200), sorted by place; none throws, whatever the bytes.
namespace whichlink::load {

constexpr std::size_t kLargestFileBytes = 8U << 20U;
constexpr int kDeepestNesting = 32;

/// @param file  how the text's place is named in problems
[[nodiscard]] Result<faults::Rules> rules_from(std::string_view text, const std::string& file);
[[nodiscard]] Result<moves::Installation> installation_from(std::string_view text,
                                                            const std::string& file,
                                                            const faults::Rules& rules);
[[nodiscard]] Result<guide::CaseFile> case_from(std::string_view text, const std::string& file);
/// The rules' name (`rules: hearing`) in an installation's text, without reading the rest.
[[nodiscard]] Result<std::string> rules_name_in(std::string_view text, const std::string& file);

/// A whole file, at most kLargestFileBytes.
[[nodiscard]] Result<std::string> read_file(const std::string& file);
[[nodiscard]] Result<faults::Rules> rules_file(const std::string& file);
/// An installation with its rules: `NAME.yaml` from `rules_folder`.
[[nodiscard]] Result<moves::Installation> installation_file(const std::string& file,
                                                            const std::string& rules_folder);
[[nodiscard]] Result<guide::CaseFile> case_file(const std::string& file);

/// A session that may go on record: a code that is neither a name nor a date, a day, and routes of
/// the chain, one at least.
/// @param place  for what is wrong with it
[[nodiscard]] Result<record::Session> session_from(const record::Session& given,
                                                   const chain::Chain& chain, const Place& place);
/// Lines `code,day,routes`, routes parted by semicolons; each code once.
[[nodiscard]] Result<std::vector<record::Session>> sessions_from(const std::string& text,
                                                                 const chain::Chain& chain,
                                                                 const std::string& file);
[[nodiscard]] Result<std::vector<record::Session>> sessions_file(const std::string& file,
                                                                 const chain::Chain& chain);

/// Who shares a cupboard, what lies in it, and what its parts cost.
[[nodiscard]] Result<stock::StoresFile> stores_from(std::string_view text, const std::string& file);
[[nodiscard]] Result<stock::StoresFile> stores_file(const std::string& file);
/// Lessons and their cases, for drills. Names of faults, plugs and routes mean something only once
/// a case is opened with its installation.
[[nodiscard]] Result<drill::Lessons> lessons_from(std::string_view text, const std::string& file);
[[nodiscard]] Result<drill::Lessons> lessons_file(const std::string& file);
/// A code that may stand for a person on record: as that of a session, neither a name nor a date.
[[nodiscard]] Result<std::string> trainee_code(const std::string& given, const Place& place);

/// The case as text that case_from reads back to the same events.
[[nodiscard]] std::string to_text(const guide::CaseFile& events);

}  // namespace whichlink::load
