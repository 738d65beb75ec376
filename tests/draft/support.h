#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "base/random.h"
#include "draft/draft.h"
#include "load/load.h"

namespace whichlink::draft {

inline const std::string kSource = WHICHLINK_SOURCE_DIR;

inline faults::Rules rules_named(const std::string& name) {
  auto loaded = load::rules_file(kSource + "/rules/" + name + ".yaml");
  if (!loaded) {
    for (const Problem& problem : loaded.error()) ADD_FAILURE() << to_line(problem);
    return {};
  }
  return std::move(*loaded);
}

inline moves::Installation shipped(const std::string& name) {
  auto loaded = load::installation_file(kSource + "/models/" + name + ".yaml", kSource + "/rules");
  if (!loaded) {
    for (const Problem& problem : loaded.error()) ADD_FAILURE() << to_line(problem);
    return {};
  }
  return std::move(*loaded);
}

/// The installation that a text says; a failure with every complaint and the text, and some other
/// one to go on with, where it cannot be read.
inline moves::Installation loaded(const std::string& text, const faults::Rules& rules) {
  auto read = load::installation_from(text, "draft", rules);
  if (!read) {
    for (const Problem& problem : read.error()) ADD_FAILURE() << to_line(problem) << "\n" << text;
    return shipped("two-room-booth");
  }
  return std::move(*read);
}

/// Answers one after the other, as typed; each question must be there when its turn comes.
struct Line {
  std::string key, text;
};
inline Form answered(const faults::Rules& rules, const std::vector<Line>& lines,
                     const Answers& usual = {}) {
  Answers answers;
  for (const Line& line : lines) {
    const Form form = form_of(rules, answers, usual);
    const auto question = std::find_if(form.questions.begin(), form.questions.end(),
                                       [&](const Question& one) { return one.key == line.key; });
    if (question == form.questions.end()) {
      ADD_FAILURE() << "nobody asks " << line.key;
      continue;
    }
    const auto said = answer_to(*question, line.text, {"test", 1, 1});
    if (!said) {
      ADD_FAILURE() << to_line(said.error().front());
      continue;
    }
    answers[line.key] = *said;
  }
  return form_of(rules, answers, usual);
}

/// A text that may answer the question, picked by chance.
inline std::string random_text(const Question& question, Random& random) {
  const auto below = [&](std::size_t count) {
    return std::min(static_cast<std::size_t>(random.uniform() * static_cast<double>(count)),
                    count - 1);
  };
  if (random.uniform() < .15) return "don't know";
  if (random.uniform() < .15) return "default";
  switch (question.ask) {
    case Ask::text: {
      static const std::vector<std::string> kTexts = {
          "West wing", "no",     "Null",          "3",       "a: b",        "\"quoted\"",
          "# 7",       "[room]", "Zimmer größer", "it's so", "back\\slash", "- dash"};
      return kTexts[below(kTexts.size())] + std::to_string(below(9));
    }
    case Ask::number: {
      const std::vector<std::string> numbers = {"1", "0.5", ".25", "2.", "40", "366"};
      return numbers[below(numbers.size())];
    }
    case Ask::one:
      return std::to_string(below(question.choices.size()) + 1);
    case Ask::some:
      break;
  }
  std::string text;
  for (std::size_t choice = 1; choice <= question.choices.size(); ++choice) {
    const std::size_t times =
        question.repeats ? below(3) : static_cast<std::size_t>(random.uniform() < .5);
    for (std::size_t count = 0; count < times; ++count) text += std::to_string(choice) + " ";
  }
  if (text.empty()) return question.may_be_none ? "none" : "1";
  return text;
}

/// Every question answered by chance, each once the ones before it are.
inline Form random_form(const faults::Rules& rules, Random& random, const Answers& usual = {}) {
  Answers answers;
  Form form = form_of(rules, answers, usual);
  for (std::size_t index = 0; index < form.questions.size(); ++index) {
    const Question& question = form.questions[index];
    auto said = answer_to(question, random_text(question, random), {"test", 1, 1});
    // A name that another place has is refused; the default never is.
    answers[question.key] = said ? *said : Said{question.usual, question.usual_known};
    form = form_of(rules, answers, usual);
  }
  return form;
}

}  // namespace whichlink::draft
