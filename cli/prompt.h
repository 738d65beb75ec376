#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"

namespace whichlink::cli {

/// No answer that means anything is longer.
constexpr std::size_t kLongestAnswer = 200;

struct Answer {
  std::string text;  ///< without blanks around it
  Place place;       ///< where it stands, for complaints
};

/// Where answers come from: keys on a terminal, or the lines of a file or pipe.
class Prompt {
 public:
  virtual ~Prompt() = default;
  /// The next answer; nothing at the end of input.
  /// @param keys  answers of one character that need no Enter on a terminal
  [[nodiscard]] virtual std::optional<Answer> next(const std::vector<std::string>& keys) = 0;
  /// On a terminal a bad answer is asked for again; elsewhere it ends the run.
  [[nodiscard]] virtual bool asks_again() const = 0;
  /// Where the next answer would stand, at the earliest.
  [[nodiscard]] virtual Place place() const = 0;
};

/// Whether an answer is one of the ways to say a thing.
[[nodiscard]] bool is_one_of(const std::string& text, const std::vector<std::string>& spellings);

/// Keys typed on a terminal: a known key answers at once, anything else is typed out and ended with
/// Enter.
[[nodiscard]] std::unique_ptr<Prompt> terminal_prompt();
/// Lines of a text: blank lines and lines that begin with # are passed over.
[[nodiscard]] std::unique_ptr<Prompt> lines_prompt(std::string text, std::string name);
/// Lines of standard input, one by one as they come.
[[nodiscard]] std::unique_ptr<Prompt> piped_prompt();

/// Asks until an answer is taken: `accept` says what is wrong with one. A bad answer is asked for
/// again on a terminal; elsewhere it ends the run (BadInput).
/// @return false at the end of input
bool ask(Prompt& prompt, const std::vector<std::string>& keys,
         const std::function<std::optional<Problem>(const Answer&)>& accept);

/// The lines of that file; without one, the terminal, or standard input where it is none.
[[nodiscard]] std::unique_ptr<Prompt> prompt_for(const std::string& answers_file);

}  // namespace whichlink::cli
