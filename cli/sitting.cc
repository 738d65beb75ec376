#include "sitting.h"

#include <spdlog/spdlog.h>

#include <chrono>

#include "case_options.h"
#include "load/load.h"
#include "render/json.h"
#include "render/pages.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

// What a person can say besides a symptom.
enum class Word { not_sure, cannot, why, others, back, aside, help, none };

Word word_of(const std::string& text) {
  static const std::vector<std::pair<Word, std::vector<std::string>>> kWords = {
      {Word::not_sure, {"u", guide::kNotSure}},
      {Word::cannot, {"k", guide::kCannotDo, "can't do"}},
      {Word::why, {"w", "why"}},
      {Word::others, {"o", "other moves"}},
      {Word::back, {"b", "take back"}},
      {Word::aside, {"q", "put aside"}},
      {Word::help, {"h", "?", "help"}}};
  for (const auto& [word, spellings] : kWords) {
    if (is_one_of(text, spellings)) return word;
  }
  return Word::none;
}

/// The state of one sitting.
class Sitting {
 public:
  Sitting(const moves::Installation& installation, const SittingOptions& options, Prompt& prompt,
          const Journals& journals)
      : installation_(installation),
        options_(options),
        prompt_(prompt),
        journals_(journals),
        style_(style_of_output()) {}

  guide::Stage run(guide::CaseFile events) {
    if (!complete(events)) return none_begun();
    case_ = must(guide::Case::open(installation_, std::move(events)));
    tell(render::opening_page(*case_, style_));
    for (const auto& journal : journals_) journal->open(*case_);
    while (true) {
      advise();
      if (advice_.stage != guide::Stage::under_way) return finish();
      if (!one_answer()) return put_aside();
    }
  }

 private:
  void tell(const std::string& text) const {
    if (!options_.json) show(text);
  }

  // Asks for whatever is still missing; false at the end of input.
  bool complete(guide::CaseFile& events) {
    if (events.route.empty()) {
      const std::optional<std::string> route = ask_route();
      if (!route) return false;
      events.route = *route;
    }
    if (events.complaint.heard.empty() && !ask_complaint(events)) return false;
    for (const auto& journal : journals_) {
      if (!events.days_since_pass) events.days_since_pass = journal->days_since_pass(events.route);
    }
    return true;
  }

  // A person who leaves before that knows it; whoever reads JSON waits for some.
  [[nodiscard]] guide::Stage none_begun() const {
    if (options_.json) {
      refuse({prompt_.place(), "no more answers, and no case begun",
              "the route in trouble and what is reported of it", ""});
    }
    return guide::Stage::under_way;
  }

  std::optional<std::string> ask_route() {
    const chain::Chain& chain = installation_.chain;
    std::string text = render::heading(installation_.name, style_) + "Which route is in trouble?\n";
    std::vector<std::string> names;
    for (const chain::Route& route : chain.routes) {
      names.push_back(route.name);
      text += "  " + std::to_string(names.size()) + "  " + route.name + "\n";
    }
    tell(text);
    std::optional<std::string> chosen;
    std::vector<std::string> keys;
    for (std::size_t number = 1; number <= names.size() && names.size() < 10; ++number) {
      keys.push_back(std::to_string(number));
    }
    ask(prompt_, keys, [&](const Answer& answer) -> std::optional<Problem> {
      for (std::size_t index = 0; index < names.size(); ++index) {
        if (answer.text == names[index] || answer.text == std::to_string(index + 1)) {
          chosen = names[index];
          return std::nullopt;
        }
      }
      return Problem{answer.place, "no route \"" + answer.text + "\"", one_of(names),
                     nearest(answer.text, names)};
    });
    return chosen;
  }

  bool ask_complaint(guide::CaseFile& events) {
    const chain::Chain& chain = installation_.chain;
    for (const chain::Route& route : chain.routes) {
      if (route.name != events.route) continue;
      const faults::Signal& signal = installation_.rules.signals[route.signal];
      const faults::Sense& sense = installation_.rules.senses[signal.sense];
      std::string text =
          render::wrapped("What is reported of it? (" + signal.words + ")", "", style_.width);
      for (std::size_t index = 1; index < sense.symptoms.size(); ++index) {
        text += "  " + sense.symptoms[index].key + "  " +
                render::report_words(installation_.rules, signal, signal.sense, index) + "\n";
      }
      if (sense.elsewhere)
        text += "  " + sense.elsewhere->key + "  " + sense.elsewhere->words + "\n";
      tell(text);
      return ask(prompt_, symptom_keys(sense), [&](const Answer& answer) -> std::optional<Problem> {
        const guide::Report report = report_of(answer.text, sense);
        const auto weights = guide::weights_of(sense, report, answer.place);
        if (!weights) return weights.error().front();
        events.complaint = report;
        events.complaint_place = answer.place;
        return std::nullopt;
      });
    }
    return must(Result<bool>(tl::unexpected(
        Problems{{events.route_place, "no route \"" + events.route + "\"",
                  "a route of the installation", nearest(events.route, route_names())}})));
  }

  [[nodiscard]] std::vector<std::string> route_names() const {
    std::vector<std::string> names;
    for (const chain::Route& route : installation_.chain.routes) names.push_back(route.name);
    return names;
  }

  static std::vector<std::string> symptom_keys(const faults::Sense& sense) {
    std::vector<std::string> keys;
    for (const faults::Symptom& symptom : sense.symptoms) keys.push_back(symptom.key);
    if (sense.elsewhere) keys.push_back(sense.elsewhere->key);
    return keys;
  }

  void advise() {
    const auto start = std::chrono::steady_clock::now();
    advice_ = case_->advise(options_.depth);
    chosen_ = advice_.move;
    const std::chrono::duration<double, std::milli> spent =
        std::chrono::steady_clock::now() - start;
    spdlog::debug(
        "step {}: {} candidates in {:.1f} ms, something wrong {:.4f}, close {:.2f} min, "
        "service {:.2f} min",
        case_->steps().size() + 1, advice_.plan.candidates.size(), spent.count(),
        advice_.plan.something_wrong, advice_.plan.close_minutes, advice_.plan.service_minutes);
  }

  void show_step() {
    if (options_.json) return;
    const plan::Picture picture = case_->picture();
    spdlog::debug("picture: left out {:.2g}, digits lost {:.1f}, log evidence {:.4f}",
                  picture.left_out, picture.digits_lost, picture.log_evidence);
    tell(render::step_page(*case_, advice_, picture, *chosen_, style_));
    tell(render::answer_line(*case_, *chosen_, style_));
  }

  // False at the end of input, or when the case is put aside.
  bool one_answer() {
    show_step();
    const faults::Sense& sense = installation_.rules.senses[chosen_->sense];
    std::vector<std::string> keys = symptom_keys(sense);
    for (const char* key : {"u", "k", "w", "o", "b", "q", "h", "?"}) keys.emplace_back(key);
    bool aside = false;
    bool answered = false;
    while (!answered && !aside) {
      const bool more = ask(prompt_, keys, [&](const Answer& answer) -> std::optional<Problem> {
        switch (word_of(answer.text)) {
          case Word::why:
            tell(render::why_page(*case_, advice_, *chosen_, style_));
            return std::nullopt;
          case Word::others:
            return choose_other();
          case Word::help:
            tell(render::answer_line(*case_, *chosen_, style_));
            return std::nullopt;
          case Word::aside:
            aside = true;
            return std::nullopt;
          case Word::back:
            if (!case_->take_back()) {
              return Problem{answer.place, "there is no answer to take back", "a report", ""};
            }
            for (const auto& journal : journals_) journal->took_back(*case_);
            answered = true;
            return std::nullopt;
          case Word::not_sure:
          case Word::cannot:
          case Word::none:
            break;
        }
        auto problem = case_->answer({chosen_->name, report_of(answer.text, sense), answer.place});
        if (problem) return problem;
        for (const auto& journal : journals_) journal->answered(*case_);
        answered = true;
        return std::nullopt;
      });
      if (!more) return false;
    }
    return !aside;
  }

  std::optional<Problem> choose_other() {
    tell(render::others_page(*case_, advice_, style_));
    const auto& candidates = advice_.plan.candidates;
    ask(prompt_, {}, [&](const Answer& answer) -> std::optional<Problem> {
      if (answer.text.empty()) return std::nullopt;
      std::vector<std::string> names;
      for (std::size_t index = 0; index < candidates.size(); ++index) {
        names.push_back(candidates[index].move.name);
        if (answer.text == names.back() || answer.text == std::to_string(index + 1)) {
          chosen_ = candidates[index].move;
          return std::nullopt;
        }
      }
      return Problem{
          answer.place, "no move \"" + answer.text + "\"",
          "a number from 1 to " + std::to_string(candidates.size()) + ", or a move's name",
          nearest(answer.text, names)};
    });
    show_step();
    return std::nullopt;
  }

  guide::Stage finish() {
    const guide::Ending ending = case_->ending(advice_.stage);
    for (const auto& journal : journals_) journal->ended(*case_, ending);
    if (options_.json) {
      show(render::to_text(render::case_json(*case_, advice_, case_->picture(), ending)));
    } else {
      show(render::ending_page(*case_, ending, style_));
    }
    return advice_.stage;
  }

  guide::Stage put_aside() {
    if (options_.json) {
      show(render::to_text(render::case_json(*case_, advice_, case_->picture(), std::nullopt)));
      return advice_.stage;
    }
    show(render::ending_page(*case_, case_->ending(guide::Stage::under_way), style_));
    if (journals_.empty()) {
      show("The case so far, for --resume:\n\n" + load::to_text(case_->events()));
    } else {
      show("Go on later with: " + journals_.front()->how_to_go_on() + "\n");
    }
    return advice_.stage;
  }

  const moves::Installation& installation_;
  const SittingOptions& options_;
  Prompt& prompt_;
  const Journals& journals_;
  render::Style style_;
  std::unique_ptr<guide::Case> case_;
  guide::Advice advice_;
  std::optional<moves::Move> chosen_;
};

}  // namespace

guide::Report report_of(const std::string& text, const faults::Sense& sense) {
  for (const faults::Symptom& symptom : sense.symptoms) {
    if (symptom.key == text) return {symptom.name, std::nullopt};
  }
  if (sense.elsewhere && sense.elsewhere->key == text) {
    return {sense.elsewhere->name, std::nullopt};
  }
  if (word_of(text) == Word::not_sure) return {guide::kNotSure, std::nullopt};
  if (word_of(text) == Word::cannot) return {guide::kCannotDo, std::nullopt};
  return report_from(text);
}

guide::Stage sit(const moves::Installation& installation, guide::CaseFile events,
                 const SittingOptions& options, Prompt& prompt, const Journals& journals) {
  return Sitting(installation, options, prompt, journals).run(std::move(events));
}

}  // namespace whichlink::cli
