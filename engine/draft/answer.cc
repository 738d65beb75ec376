#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "draft/form.h"

namespace whichlink::draft {
namespace {

/// Between names: no name holds a control character.
constexpr char kBetween = '\x1f';

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::vector<std::string> parted(const std::string& text, char by) {
  std::vector<std::string> parts(1);
  for (const char letter : text) {
    if (letter == by) {
      parts.emplace_back();
    } else {
      parts.back() += letter;
    }
  }
  return parts;
}

bool is_digits(const std::string& text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string::npos;
}

std::size_t characters(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char letter) {
    return (static_cast<unsigned char>(letter) & 0xC0U) != 0x80U;
  }));
}

std::vector<std::string> choice_names(const Question& question) {
  std::vector<std::string> names;
  for (const Choice& choice : question.choices) names.push_back(choice.name);
  return names;
}

tl::unexpected<Problems> wrong(const Place& place, std::string what, std::string expected,
                               std::string hint = "") {
  return tl::unexpected(Problems{{place, std::move(what), std::move(expected), std::move(hint)}});
}

/// A choice by its number or its name.
Result<std::string> chosen(const Question& question, const std::string& text, const Place& place) {
  const std::vector<std::string> names = choice_names(question);
  if (std::find(names.begin(), names.end(), text) != names.end()) return text;
  constexpr std::size_t kMostDigits = 6;
  if (is_digits(text) && text.size() <= kMostDigits) {
    const std::size_t number = std::stoul(text);
    if (number >= 1 && number <= names.size()) return names[number - 1];
  }
  return wrong(place, "no choice \"" + text + "\"",
               fmt::format("a number from 1 to {}, or a name of the list", names.size()),
               nearest(text, names));
}

Result<Said> several(const Question& question, const std::string& text, const Place& place) {
  std::vector<std::string> names;
  if (text == "all") {
    names = choice_names(question);
  } else if (text != "none") {
    for (const std::string& piece : parted(text, ',')) {
      const std::string one = trimmed(piece);
      const bool numbers = one.find_first_not_of("0123456789 \t") == std::string::npos;
      for (const std::string& word : numbers ? parted(one, ' ') : std::vector<std::string>{one}) {
        if (trimmed(word).empty()) continue;
        auto name = chosen(question, trimmed(word), place);
        if (!name) return tl::unexpected(std::move(name.error()));
        if (!question.repeats && std::find(names.begin(), names.end(), *name) != names.end()) {
          return wrong(place, "\"" + *name + "\" is said twice", "each once");
        }
        names.push_back(std::move(*name));
      }
    }
  }
  constexpr std::size_t kMostNames = 60;
  if (names.size() > kMostNames) {
    return wrong(place, fmt::format("{} at once", names.size()),
                 fmt::format("at most {}", kMostNames));
  }
  if (names.empty() && !question.may_be_none) {
    return wrong(place, "none of them", "at least one: their numbers, parted by blanks");
  }
  return Said{value_of(names), true};
}

Result<Said> number(const Question& question, const std::string& text, const Place& place) {
  const std::string expected =
      fmt::format("{}, {} {} and at most {}", question.unit,
                  question.above_low ? "above" : "at least", question.low, question.high);
  double value = 0;
  const char* const end = text.data() + text.size();
  const auto [rest, error] = std::from_chars(text.data(), end, value, std::chars_format::fixed);
  const bool decimal = text.find_first_not_of("0123456789.") == std::string::npos;
  if (!decimal || error != std::errc() || rest != end) {
    return wrong(place, "\"" + text + "\" is no number", expected);
  }
  if (value < question.low || value > question.high ||
      (question.above_low && value <= question.low)) {
    return wrong(place, "\"" + text + "\" is out of range", expected);
  }
  return Said{fmt::format("{}", value), true};
}

Result<Said> line(const Question& question, const std::string& text, const Place& place) {
  if (characters(text) > question.longest) {
    return wrong(place, fmt::format("{} characters", characters(text)),
                 fmt::format("at most {}", question.longest));
  }
  if (std::find(question.in_use.begin(), question.in_use.end(), text) != question.in_use.end()) {
    return wrong(place, "\"" + text + "\" is taken", "another name");
  }
  return Said{text, true};
}

}  // namespace

std::vector<std::string> names_in(const std::string& value) {
  return value.empty() ? std::vector<std::string>{} : parted(value, kBetween);
}

std::string value_of(const std::vector<std::string>& names) {
  std::string value;
  for (const std::string& name : names) {
    if (!value.empty()) value += kBetween;
    value += name;
  }
  return value;
}

Result<Said> answer_to(const Question& question, const std::string& text, const Place& place) {
  const std::string given = trimmed(text);
  if (given.empty() || given == "default") return Said{question.usual, question.usual_known};
  if (given == "d" || given == "don't know" || given == "dont know") {
    return Said{question.usual, false};
  }
  switch (question.ask) {
    case Ask::text:
      return line(question, given, place);
    case Ask::number:
      return number(question, given, place);
    case Ask::some:
      return several(question, given, place);
    case Ask::one:
      break;
  }
  auto name = chosen(question, given, place);
  if (!name) return tl::unexpected(std::move(name.error()));
  return Said{std::move(*name), true};
}

std::string typed(const Question& question, const Said& said) {
  if (question.ask == Ask::text || question.ask == Ask::number) return said.value;
  const std::vector<std::string> known = choice_names(question);
  std::string text;
  for (const std::string& name : names_in(said.value)) {
    const auto found = std::find(known.begin(), known.end(), name);
    // What would mean something else when it is typed goes by its number.
    static const std::vector<std::string> kWords = {
        "?",     "b",    "c",   "d",    "q",       "why",        "help",     "back",
        "chain", "stop", "all", "none", "default", "don't know", "dont know"};
    const bool is_plain = name.find(',') == std::string::npos && !is_digits(name) &&
                          std::find(kWords.begin(), kWords.end(), name) == kWords.end();
    text += text.empty() ? "" : ", ";
    text += is_plain || found == known.end() ? name : std::to_string(found - known.begin() + 1);
  }
  return text.empty() ? "none" : text;
}

}  // namespace whichlink::draft
