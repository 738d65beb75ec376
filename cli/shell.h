#pragma once

#include <CLI/CLI.hpp>
#include <string>

#include "base/problem.h"
#include "drill/lesson.h"
#include "moves/installation.h"
#include "render/text.h"
#include "surroundings.h"

/// What every command shares: where things go, where data is found, how bad input ends.
namespace whichlink::cli {

constexpr int kDone = 0;
constexpr int kBadInput = 2;

/// What the program has around it, for as long as this lives: the one place that is not handed down
/// through every command.
class Within {
 public:
  explicit Within(const Surroundings& around);
  ~Within();
  Within(const Within&) = delete;
  Within& operator=(const Within&) = delete;
};
/// Precondition: a Within lives.
[[nodiscard]] const Surroundings& around();

/// Thrown by a command whose input is bad; one line each is shown, and the exit code is kBadInput.
struct BadInput {
  Problems problems;
};

[[noreturn]] void refuse(const Problem& problem);
[[noreturn]] void refuse(const std::string& where, const std::string& what,
                         const std::string& expected);

/// The value, or BadInput.
template <class Value>
Value must(Result<Value> result) {
  if (!result) throw BadInput{std::move(result.error())};
  return std::move(*result);
}

/// Style for standard output: colour only on a terminal without NO_COLOR; box characters only where
/// the locale's character set is UTF-8.
[[nodiscard]] render::Style style_of_output();
[[nodiscard]] bool is_terminal_err();

/// Writes to standard output; a closed pipe or a full disk ends the program with a line and code 2.
void show(const std::string& text);

/// A file by its path, or an installation that comes with whichlink by its name.
[[nodiscard]] moves::Installation load_installation(const std::string& name_or_path);

/// Where that file is.
[[nodiscard]] std::string installation_path(const std::string& name_or_path);

/// Where the rules of that name are.
[[nodiscard]] std::string rules_path(const std::string& name);

/// The names of the installations that come with whichlink.
[[nodiscard]] std::vector<std::string> known_models();
/// The names of the rules that come with whichlink, and those of one name.
[[nodiscard]] std::vector<std::string> known_rules();
[[nodiscard]] faults::Rules load_rules(const std::string& name);
/// Lessons of a file, or those that come with whichlink, by name; empty: the first of those.
[[nodiscard]] drill::Lessons load_lessons(const std::string& name_or_path);

/// The user's data folder.
[[nodiscard]] std::string data_home();
/// Writes the whole file or leaves the old one: a new file beside it, synced, then renamed.
void keep_file(const std::string& path, const std::string& text);

/// A bar on standard error, drawn over the one before. @param share done, 0 to 1
void show_progress(double share);
/// Wipes it.
void end_progress();

/// Adds the command to the program; returns what runs when it was chosen.
using Run = std::function<int()>;
struct Command {
  CLI::App* app;
  Run run;
};
[[nodiscard]] Command survey_command(CLI::App& program);
[[nodiscard]] Command isolate_command(CLI::App& program);
[[nodiscard]] Command rank_command(CLI::App& program);
[[nodiscard]] Command tables_command(CLI::App& program);
[[nodiscard]] Command trial_command(CLI::App& program);
[[nodiscard]] Command log_command(CLI::App& program);
[[nodiscard]] Command session_command(CLI::App& program);
[[nodiscard]] Command rates_command(CLI::App& program);
[[nodiscard]] Command lookback_command(CLI::App& program);
[[nodiscard]] Command interval_command(CLI::App& program);
[[nodiscard]] Command check_command(CLI::App& program);
[[nodiscard]] Command stock_command(CLI::App& program);
[[nodiscard]] Command new_command(CLI::App& program);
[[nodiscard]] Command drill_command(CLI::App& program);
[[nodiscard]] Command sheet_command(CLI::App& program);

}  // namespace whichlink::cli
