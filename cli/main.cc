#include <spdlog/sinks/stdout_color_sinks.h>
#include <spdlog/spdlog.h>

#include <algorithm>
#include <csignal>
#include <exception>
#include <iostream>
#include <optional>

#include "completion.h"
#include "manual.h"
#include "shell.h"

#ifdef __GLIBC__  // known once a header of the library was read
#include <malloc.h>
#endif

namespace {

using whichlink::cli::Command;

// The library's default logger writes to standard output, which belongs to the answers.
void log_to_stderr(bool trace) {
  spdlog::set_default_logger(spdlog::stderr_color_mt("whichlink"));
  spdlog::set_pattern("%v");
  spdlog::set_level(trace ? spdlog::level::debug : spdlog::level::off);
}

void complain(const whichlink::Problems& problems) {
  for (const whichlink::Problem& problem : problems) {
    std::cerr << whichlink::to_line(problem) << "\n";
  }
}

std::vector<std::string> names_of(const CLI::App& program) {
  std::vector<std::string> names;
  for (const CLI::App* command : program.get_subcommands({})) names.push_back(command->get_name());
  return names;
}

// What is said of a word that should be a command, or a kind of one, and is none, or is missing;
// empty where the words so far are right.
std::string command_hint(const CLI::App& program, int argc, char** argv) {
  const CLI::App* at = &program;
  for (int index = 1; index < argc; ++index) {
    const std::vector<std::string> names = names_of(*at);
    const std::string word = argv[index];
    if (names.empty() || word[0] == '-') break;
    if (std::find(names.begin(), names.end(), word) == names.end()) {
      const std::string kind = at == &program ? "command" : at->get_name();
      std::string what = "no ";
      what.append(kind).append(" \"").append(word).append("\"");
      return whichlink::to_line(
          {{"", 0, 0}, what, whichlink::one_of(names), whichlink::nearest(word, names)});
    }
    at = at->get_subcommand(word);
  }
  const bool is_short = at != &program || argc < 2;
  if (!is_short || names_of(*at).empty()) return "";
  return "whichlink: a " + (at == &program ? "command" : "kind of " + at->get_name()) +
         " is needed; expected " + whichlink::one_of(names_of(*at));
}

// What a shell or a packager asks, not a person: no command of the tree, and in no help. A shell
// that asks in vain gets nothing, whatever was typed.
std::optional<int> answer_machine(const CLI::App& program, const std::vector<std::string>& words) {
  const std::string asked = words.empty() ? "" : words.front();
  if (asked == "manual" && words.size() == 1) {
    whichlink::cli::show(whichlink::cli::manual_of(program));
    return whichlink::cli::kDone;
  }
  if (asked == "completion" && words.size() == 2) {
    const std::string script = whichlink::cli::completion_script(words.back());
    if (script.empty()) {
      whichlink::cli::refuse("completion", "no shell \"" + words.back() + "\"",
                             "bash, zsh or fish");
    }
    whichlink::cli::show(script);
    return whichlink::cli::kDone;
  }
  if (asked != "complete") return std::nullopt;
  try {
    for (const std::string& one :
         whichlink::cli::completions(program, {words.begin() + 1, words.end()})) {
      whichlink::cli::show(one + "\n");
    }
  } catch (...) {  // such as a file with complaints: they are for whoever runs the command
    return whichlink::cli::kDone;
  }
  return whichlink::cli::kDone;
}

int run(int argc, char** argv) {
  CLI::App program("Finds which link of an intermittent signal path is bad.", "whichlink");
  program.require_subcommand(1);
  program.set_version_flag("--version", WHICHLINK_VERSION);
  bool trace = false;
  program.add_flag("--trace", trace, "Show how each step was reckoned, on standard error");
  const std::vector<Command> commands = {
      whichlink::cli::survey_command(program),   whichlink::cli::isolate_command(program),
      whichlink::cli::rank_command(program),     whichlink::cli::tables_command(program),
      whichlink::cli::trial_command(program),    whichlink::cli::check_command(program),
      whichlink::cli::log_command(program),      whichlink::cli::session_command(program),
      whichlink::cli::rates_command(program),    whichlink::cli::lookback_command(program),
      whichlink::cli::interval_command(program), whichlink::cli::stock_command(program),
      whichlink::cli::new_command(program),      whichlink::cli::drill_command(program),
      whichlink::cli::sheet_command(program)};
  const std::vector<std::string> words(argv + std::min(argc, 1), argv + argc);
  if (const auto code = answer_machine(program, words)) return *code;
  try {
    program.parse(argc, argv);
  } catch (const CLI::Success& asked_for_help) {
    return program.exit(asked_for_help);
  } catch (const CLI::ParseError& error) {
    const std::string hint = command_hint(program, argc, argv);
    std::string what = error.what();
    for (char& letter : what) {
      if (letter == '\n') letter = ' ';
    }
    std::cerr << (hint.empty() ? "whichlink: " + what : hint) << "; see whichlink --help\n";
    return whichlink::cli::kBadInput;
  }
  log_to_stderr(trace);
  for (const Command& command : commands) {
    if (command.app->parsed()) return command.run();
  }
  return whichlink::cli::kBadInput;
}

// Each step makes and drops millions of small arrays. The library's allocator gives memory back to
// the system and asks for it again all the while, which takes a fifth of the time; we keep it.
void keep_memory() {
#ifdef __GLIBC__
  constexpr int kPlenty = 64 << 20;
  mallopt(M_TRIM_THRESHOLD, kPlenty);
  mallopt(M_TOP_PAD, 4 << 20);
  mallopt(M_MMAP_THRESHOLD, kPlenty);
#endif
}

}  // namespace

int main(int argc, char** argv) {
  keep_memory();
  std::signal(SIGPIPE, SIG_IGN);  // a closed pipe is a write error with a line, not a silent death
  try {
    return run(argc, argv);
  } catch (const whichlink::cli::BadInput& bad) {
    complain(bad.problems);
    return whichlink::cli::kBadInput;
  } catch (const std::exception& error) {
    std::cerr << "whichlink: " << error.what() << "\n";
    return whichlink::cli::kBadInput;
  }
}
