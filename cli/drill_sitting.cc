#include "drill_sitting.h"

#include <charconv>
#include <sstream>

#include "case_options.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

// What a trainee can type besides moves.
enum class DrillWord { close, call, suspect, hint, chain, help, aside, none };

DrillWord drill_word_of(const std::string& first) {
  static const std::vector<std::pair<DrillWord, std::vector<std::string>>> kWords = {
      {DrillWord::close, {"close", "c"}},     {DrillWord::call, {"call", "service"}},
      {DrillWord::suspect, {"suspect", "s"}}, {DrillWord::hint, {"hint", "h"}},
      {DrillWord::chain, {"chain"}},          {DrillWord::help, {"help", "?"}},
      {DrillWord::aside, {"aside", "q"}}};
  for (const auto& [word, spellings] : kWords) {
    if (is_one_of(first, spellings)) return word;
  }
  return DrillWord::none;
}

std::vector<std::string> words_in(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

/// The state of one sitting.
class DrillSitting {
 public:
  DrillSitting(drill::Drill& drill, const render::DrillTitle& title,
               const DrillSittingOptions& options, Prompt& prompt)
      : drill_(drill),
        title_(title),
        options_(options),
        prompt_(prompt),
        style_(style_of_output()) {}

  void run() {
    tell(render::drill_opening_page(drill_, title_, style_));
    while (drill_.stage() == drill::Stage::under_way && !aside_) {
      if (!one_choice()) return;
    }
    while (drill_.stage() == drill::Stage::ending) {
      if (!last_answers()) finish_without_checks();
    }
  }

 private:
  void tell(const std::string& text) const {
    if (!options_.json) show(text);
  }

  bool one_choice() {
    const std::vector<moves::Move> possible = drill_.possible();
    menu_ = drill::menu_of(possible);
    tell(render::drill_menu(drill_, menu_, style_));
    const std::size_t turns = drill_.turns().size();
    while (drill_.turns().size() == turns && !aside_) {
      const bool more = ask(prompt_, {}, [&](const Answer& answer) { return taken(answer); });
      if (!more) return false;
    }
    return true;
  }

  std::optional<Problem> taken(const Answer& answer) {
    const std::vector<std::string> words = words_in(answer.text);
    if (words.empty()) return std::nullopt;
    switch (words.size() == 1 || words.front() == "suspect" || words.front() == "s"
                ? drill_word_of(words.front())
                : DrillWord::none) {
      case DrillWord::close:
        return say(drill::Say::close, answer);
      case DrillWord::call:
        return say(drill::Say::service, answer);
      case DrillWord::suspect:
        return suspect(words, answer);
      case DrillWord::hint: {
        auto problem = say(drill::Say::hint, answer);
        tell(render::drill_hint_page(drill_, title_, style_));
        return problem;
      }
      case DrillWord::chain:
        tell(render::drill_chain(drill_, style_));
        return std::nullopt;
      case DrillWord::help:
        tell(render::drill_help_page(drill_, style_));
        return std::nullopt;
      case DrillWord::aside:
        aside_ = true;
        return std::nullopt;
      case DrillWord::none:
        break;
    }
    return make(answer);
  }

  std::optional<Problem> say(drill::Say what, const Answer& answer) {
    drill::Event event;
    event.say = what;
    event.place = answer.place;
    return drill_.take(event);
  }

  std::optional<Problem> make(const Answer& answer) {
    const drill::Pick pick = drill::pick(drill_.isolation().setting(), menu_, answer.text);
    if (pick.kind != nullptr) {
      tell(render::drill_kind_page(drill_, menu_, *pick.kind, style_));
      return std::nullopt;
    }
    if (pick.fits.size() != 1) return not_one(pick, answer);
    drill::Event event;
    event.name = pick.fits.front()->name;
    event.place = answer.place;
    auto problem = drill_.take(event);
    if (!problem) tell(render::drill_turn_page(drill_, options_.against, style_));
    return problem;
  }

  [[nodiscard]] std::optional<Problem> not_one(const drill::Pick& pick,
                                               const Answer& answer) const {
    std::vector<std::string> names;
    if (!pick.fits.empty()) {
      for (const moves::Move* move : pick.fits) names.push_back(move->name);
      return Problem{answer.place,
                     "\"" + answer.text + "\" fits " + std::to_string(names.size()) + " moves",
                     one_of(names), ""};
    }
    for (const drill::MenuEntry& entry : menu_) {
      for (const moves::Move& move : entry.moves) names.push_back(move.name);
    }
    for (const char* word : {"close", "call", "suspect", "hint", "chain", "help", "aside"}) {
      names.emplace_back(word);
    }
    return Problem{answer.place, "\"" + answer.text + "\" is no move that is possible here",
                   "a number of the list, or a move's name", nearest(answer.text, names)};
  }

  // "suspect NAME .7" or "suspect NAME 70 %".
  std::optional<Problem> suspect(std::vector<std::string> words, const Answer& answer) {
    words.erase(words.begin());
    const bool bare_sign = !words.empty() && words.back() == "%";
    if (bare_sign) words.pop_back();
    std::string last = words.empty() ? "" : words.back();
    const bool in_percent = bare_sign || (!last.empty() && last.back() == '%');
    if (!last.empty() && last.back() == '%') last.pop_back();
    const std::optional<double> given = number_in(last);
    const double sure = given ? *given / (in_percent ? 100 : 1) : -1;
    if (words.size() < 2 || sure < 0 || sure > 1) {
      return Problem{answer.place, "it is not said how sure you are",
                     "suspect NAME and a number from 0 to 1, or in %", ""};
    }
    words.pop_back();
    drill::Event event;
    event.say = drill::Say::suspect;
    for (const std::string& word : words) event.name += (event.name.empty() ? "" : " ") + word;
    event.sure = sure;
    event.place = answer.place;
    auto problem = drill_.take(event);
    if (!problem) tell(render::claim_line(drill_.claims().back(), style_));
    return problem;
  }

  // What must be checked, once the case is closed or handed over. False at the end of input.
  bool last_answers() {
    tell(render::drill_checks_page(drill_, style_));
    return ask(prompt_, {}, [&](const Answer& answer) -> std::optional<Problem> {
      const std::vector<std::string> words = words_in(answer.text);
      if (!words.empty() && drill_word_of(words.front()) == DrillWord::suspect)
        return suspect(words, answer);
      drill::Event event;
      event.say = drill::Say::checks;
      event.place = answer.place;
      if (answer.text == "nothing" || words.empty()) return drill_.take(event);
      const std::vector<std::string> known = drill_.all_checks();
      for (const std::string& word : words) {
        std::size_t number = 0;
        const char* end = word.data() + word.size();
        const auto [rest, error] = std::from_chars(word.data(), end, number);
        if (error != std::errc() || rest != end || number == 0 || number > known.size()) {
          return Problem{answer.place, "\"" + word + "\" is no number of the list",
                         "numbers from 1 to " + std::to_string(known.size()) + ", or nothing", ""};
        }
        event.checks.push_back(known[number - 1]);
      }
      return drill_.take(event);
    });
  }

  void finish_without_checks() {
    drill::Event event;
    event.say = drill::Say::checks;
    if (const auto problem = drill_.take(event)) refuse(*problem);
  }

  drill::Drill& drill_;
  const render::DrillTitle& title_;
  const DrillSittingOptions& options_;
  Prompt& prompt_;
  render::Style style_;
  std::vector<drill::MenuEntry> menu_;
  bool aside_ = false;
};

}  // namespace

void drill_on(drill::Drill& drill, const render::DrillTitle& title,
              const DrillSittingOptions& options, Prompt& prompt) {
  DrillSitting(drill, title, options, prompt).run();
}

}  // namespace whichlink::cli
