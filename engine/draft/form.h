#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "base/problem.h"
#include "faults/rules.h"

namespace whichlink::draft {

enum class Ask {
  text,    ///< a name or a line
  number,  ///< in plain decimals
  one,     ///< one of the choices
  some,    ///< any of the choices, or none; where `repeats`, each as often as it is there
};

struct Choice {
  std::string name;
  std::string words;
};

struct Question {
  std::string key;  ///< what the answer is kept under
  std::string asks;
  std::string because;  ///< why it is asked, and how to find out
  Ask ask = Ask::text;
  std::vector<Choice> choices;  ///< of `one` and `some`
  bool repeats = false;
  bool may_be_none = true;   ///< of `some`
  double low = 0, high = 0;  ///< of `number`
  bool above_low = false;    ///< `low` itself is not allowed
  std::string unit;
  std::size_t longest = 0;          ///< of `text`, characters
  std::vector<std::string> in_use;  ///< of `text`: names that something else has
  std::string usual;                ///< the default, as an answer's value
  bool usual_known = true;          ///< false: the default itself is a guess
};

/// One answer; of `some` as value_of puts it.
struct Said {
  std::string value;
  bool known = true;  ///< false: somebody did not know, and the default was taken
  friend bool operator==(const Said&, const Said&) = default;
};
using Answers = std::map<std::string, Said>;

/// The names in the value of a `some`, and back.
[[nodiscard]] std::vector<std::string> names_in(const std::string& value);
[[nodiscard]] std::string value_of(const std::vector<std::string>& names);

/// What a typed text answers: a number or a name of the list; several, parted by blanks (numbers)
/// or commas; `default`, `none`, `all`, `don't know`. Precondition: one line of UTF-8.
[[nodiscard]] Result<Said> answer_to(const Question& question, const std::string& text,
                                     const Place& place);
/// The value as it would be typed.
[[nodiscard]] std::string typed(const Question& question, const Said& said);

/// What the question "which of these are there?" is kept under.
[[nodiscard]] std::string kinds_key();

/// All questions about an installation of one trade, in order, and an answer to each: what was
/// answered, else the default. Which questions there are depends on the answers before.
struct Form {
  std::vector<Question> questions;
  Answers complete;
};
/// @param rules  with outlines
/// @param answers  so far; those that answer no question any more do not count
/// @param usual  defaults that go before the rules' own, as from a file that is being changed; may
///        hold what nobody is asked (`start`, `miss minutes`, the names of spares ...)
[[nodiscard]] Form form_of(const faults::Rules& rules, const Answers& answers,
                           const Answers& usual);

}  // namespace whichlink::draft
