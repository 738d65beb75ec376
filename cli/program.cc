#include "program.h"

#include <spdlog/sinks/ostream_sink.h>
#include <spdlog/spdlog.h>

#include <algorithm>
#include <exception>
#include <optional>

#include "completion.h"
#include "manual.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

/// The trace, on standard error for as long as it lives; without it there is none. The library's
/// own logger would write to standard output, which belongs to the answers.
class Trace {
 public:
  Trace() { spdlog::set_default_logger(std::make_shared<spdlog::logger>("none")); }
  ~Trace() { spdlog::set_default_logger(std::make_shared<spdlog::logger>("none")); }
  Trace(const Trace&) = delete;
  Trace& operator=(const Trace&) = delete;

  static void show_on(std::ostream& err) {
    constexpr bool kLineByLine = true;
    spdlog::set_default_logger(std::make_shared<spdlog::logger>(
        "whichlink", std::make_shared<spdlog::sinks::ostream_sink_mt>(err, kLineByLine)));
    spdlog::set_pattern("%v");
    spdlog::set_level(spdlog::level::debug);
  }
};

std::vector<std::string> command_names(const CLI::App& program) {
  std::vector<std::string> names;
  for (const CLI::App* command : program.get_subcommands({})) names.push_back(command->get_name());
  return names;
}

// What is said of a word that should be a command, or a kind of one, and is none, or is missing;
// empty where the words so far are right.
std::string command_hint(const CLI::App& program, int argc, const char* const* argv) {
  const CLI::App* at = &program;
  for (int index = 1; index < argc; ++index) {
    const std::vector<std::string> names = command_names(*at);
    const std::string word = argv[index];
    if (names.empty() || word[0] == '-') break;
    if (std::find(names.begin(), names.end(), word) == names.end()) {
      const std::string kind = at == &program ? "command" : at->get_name();
      std::string what = "no ";
      what.append(kind).append(" \"").append(word).append("\"");
      return to_line({{"", 0, 0}, what, one_of(names), nearest(word, names)});
    }
    at = at->get_subcommand(word);
  }
  const bool is_short = at != &program || argc < 2;
  if (!is_short || command_names(*at).empty()) return "";
  return "whichlink: a " + (at == &program ? "command" : "kind of " + at->get_name()) +
         " is needed; expected " + one_of(command_names(*at));
}

// What a shell or a packager asks, not a person: no command of the tree, and in no help. A shell
// that asks in vain gets nothing, whatever was typed.
std::optional<int> answer_machine(const CLI::App& program, const std::vector<std::string>& words) {
  const std::string asked = words.empty() ? "" : words.front();
  if (asked == "manual" && words.size() == 1) {
    show(manual_of(program));
    return kDone;
  }
  if (asked == "completion" && words.size() == 2) {
    const std::string script = completion_script(words.back());
    if (script.empty()) {
      refuse("completion", "no shell \"" + words.back() + "\"", "bash, zsh or fish");
    }
    show(script);
    return kDone;
  }
  if (asked != "complete") return std::nullopt;
  try {
    for (const std::string& one : completions(program, {words.begin() + 1, words.end()})) {
      show(one + "\n");
    }
  } catch (...) {  // such as a file with complaints: they are for whoever runs the command
    return kDone;
  }
  return kDone;
}

int run(int argc, const char* const* argv) {
  CLI::App program("Finds which link of an intermittent signal path is bad.", "whichlink");
  program.require_subcommand(1);
  program.set_version_flag("--version", WHICHLINK_VERSION);
  bool trace = false;
  program.add_flag("--trace", trace, "Show how each step was reckoned, on standard error");
  const std::vector<Command> commands = {
      survey_command(program),   isolate_command(program),  rank_command(program),
      tables_command(program),   trial_command(program),    check_command(program),
      log_command(program),      session_command(program),  rates_command(program),
      lookback_command(program), interval_command(program), stock_command(program),
      new_command(program),      drill_command(program),    sheet_command(program)};
  const std::vector<std::string> words(argv + std::min(argc, 1), argv + argc);
  if (const auto code = answer_machine(program, words)) return *code;
  try {
    program.parse(argc, argv);
  } catch (const CLI::Success& asked_for_help) {
    return program.exit(asked_for_help, around().out, around().err);
  } catch (const CLI::ParseError& error) {
    const std::string hint = command_hint(program, argc, argv);
    std::string what = error.what();
    for (char& letter : what) {
      if (letter == '\n') letter = ' ';
    }
    around().err << (hint.empty() ? "whichlink: " + what : hint) << "; see whichlink --help\n";
    return kBadInput;
  }
  if (trace) Trace::show_on(around().err);
  for (const Command& command : commands) {
    if (command.app->parsed()) return command.run();
  }
  return kBadInput;
}

}  // namespace

int run_program(int argc, const char* const* argv, const Surroundings& around) {
  const Within within(around);
  const Trace none_yet;
  try {
    return run(argc, argv);
  } catch (const BadInput& bad) {
    for (const Problem& problem : bad.problems) around.err << to_line(problem) << "\n";
    return kBadInput;
  } catch (const std::exception& error) {
    around.err << "whichlink: " << error.what() << "\n";
    return kBadInput;
  }
}

}  // namespace whichlink::cli
