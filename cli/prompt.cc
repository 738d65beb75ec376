#include "prompt.h"

#include <algorithm>
#include <sstream>

#include "load/load.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

class LinesPrompt : public Prompt {
 public:
  LinesPrompt(std::istream& in, std::string name) : in_(in), name_(std::move(name)) {}

  std::optional<Answer> next(const std::vector<std::string>& /*keys*/) override {
    std::string line;
    while (std::getline(in_, line)) {
      ++number_;
      const std::string text = trimmed(line);
      if (text.empty() || text.front() == '#') continue;
      const auto column = static_cast<int>(line.find_first_not_of(" \t\r\n")) + 1;
      return Answer{text, {name_, number_, column}};
    }
    return std::nullopt;
  }
  [[nodiscard]] bool asks_again() const override { return false; }
  [[nodiscard]] Place place() const override { return {name_, number_ + 1, 1}; }

 private:
  std::istream& in_;
  std::string name_;
  int number_ = 0;
};

class TextPrompt : public Prompt {
 public:
  TextPrompt(std::string text, std::string name)
      : stream_(std::move(text)), lines_(stream_, std::move(name)) {}
  std::optional<Answer> next(const std::vector<std::string>& keys) override {
    return lines_.next(keys);
  }
  [[nodiscard]] bool asks_again() const override { return false; }
  [[nodiscard]] Place place() const override { return lines_.place(); }

 private:
  std::istringstream stream_;
  LinesPrompt lines_;
};

class TerminalPrompt : public Prompt {
 public:
  std::optional<Answer> next(const std::vector<std::string>& keys) override {
    const std::unique_ptr<Keyboard> keyboard = around().keyboard();
    std::string typed;
    around().out << "> " << std::flush;
    while (const std::optional<char> key = read_key(*keyboard)) {
      if (*key == '\n' || *key == '\r') {
        around().out << "\n" << std::flush;
        return answer(typed);
      }
      if (*key == 0x7f || *key == '\b') {
        erase_one(typed);
        continue;
      }
      if (*key == 0x1b) {  // an arrow or function key: its tail means nothing here
        pass_over_sequence(*keyboard);
        continue;
      }
      if (static_cast<unsigned char>(*key) < 0x20 || typed.size() >= kLongestAnswer) continue;
      typed += *key;
      around().out << *key << std::flush;
      if (typed.size() == 1 && is_one_of(typed, keys)) {
        around().out << "\n" << std::flush;
        return answer(typed);
      }
    }
    around().out << "\n" << std::flush;
    return std::nullopt;
  }
  [[nodiscard]] bool asks_again() const override { return true; }
  [[nodiscard]] Place place() const override {
    return {"answer " + std::to_string(number_ + 1), 0, 0};
  }

 private:
  static std::optional<char> read_key(Keyboard& keyboard) {
    const std::optional<char> key = keyboard.read();
    if (key == '\x04') return std::nullopt;
    return key;
  }
  static void pass_over_sequence(Keyboard& keyboard) {
    std::optional<char> key = read_key(keyboard);
    if (!key || (*key != '[' && *key != 'O')) return;
    do {
      key = read_key(keyboard);
    } while (key && (*key < 0x40 || *key > 0x7e));
  }
  static void erase_one(std::string& typed) {
    if (typed.empty()) return;
    while (!typed.empty() && (static_cast<unsigned char>(typed.back()) & 0xC0U) == 0x80U) {
      typed.pop_back();
    }
    if (!typed.empty()) typed.pop_back();
    around().out << "\b \b" << std::flush;
  }
  Answer answer(const std::string& typed) {
    Answer answer{trimmed(typed), place()};
    ++number_;
    return answer;
  }
  int number_ = 0;
};

}  // namespace

std::unique_ptr<Prompt> terminal_prompt() {
  return std::make_unique<TerminalPrompt>();
}
std::unique_ptr<Prompt> lines_prompt(std::string text, std::string name) {
  return std::make_unique<TextPrompt>(std::move(text), std::move(name));
}
std::unique_ptr<Prompt> piped_prompt() {
  return std::make_unique<LinesPrompt>(around().in, "standard input");
}

bool is_one_of(const std::string& text, const std::vector<std::string>& spellings) {
  return std::find(spellings.begin(), spellings.end(), text) != spellings.end();
}

bool ask(Prompt& prompt, const std::vector<std::string>& keys,
         const std::function<std::optional<Problem>(const Answer&)>& accept) {
  while (const std::optional<Answer> answer = prompt.next(keys)) {
    std::optional<Problem> problem;
    if (answer->text.size() > kLongestAnswer) {
      problem = Problem{answer->place, "the answer is too long",
                        "at most " + std::to_string(kLongestAnswer) + " characters", ""};
    } else {
      problem = accept(*answer);
    }
    if (!problem) return true;
    if (!prompt.asks_again()) refuse(*problem);
    show(to_line(*problem) + "\n");
  }
  return false;
}

std::unique_ptr<Prompt> prompt_for(const std::string& answers_file) {
  if (!answers_file.empty()) return lines_prompt(must(load::read_file(answers_file)), answers_file);
  if (around().keyboard && around().out_is_terminal) return terminal_prompt();
  return piped_prompt();
}

}  // namespace whichlink::cli
