#include "check.h"

#include <charconv>
#include <memory>

#include "case_options.h"
#include "check_journal.h"
#include "check_options.h"
#include "history/check_events.h"
#include "load/load.h"
#include "prompt.h"
#include "record_options.h"
#include "render/check_pages.h"
#include "shell.h"
#include "sitting.h"

namespace whichlink::cli {
namespace {

struct CheckCommandOptions {
  std::string model;
  CheckOptions about;
  std::string coupler;
  RecordOptions record;
  std::string answers;
  bool resume = false;
  bool json = false;
};

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words(1);
  for (const char letter : text) {
    if (letter == ' ' || letter == '\t') {
      if (!words.back().empty()) words.emplace_back();
    } else {
      words.back() += letter;
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

/// One check: asks, shows, and hands what fails over to be isolated.
class Checking {
 public:
  /// @param journal  where it is written down; may be null
  Checking(const moves::Installation& installation, const CheckCommandOptions& options,
           Prompt& prompt, Isolate isolate, CheckJournal* journal)
      : options_(options),
        prompt_(prompt),
        isolate_(std::move(isolate)),
        journal_(journal),
        style_(style_of_output()),
        setting_(installation, installation.rules.handling.default_days_since_pass) {}

  int run(routine::CheckFile events) {
    round_ = must(routine::Round::open(setting_, std::move(events)));
    check_coupler();
    if (journal_ != nullptr) journal_->open(*round_, setting_.installation().name);
    tell(render::check_opening_page(*round_, style_));
    bool goes_on = offer_isolation() != Offer::stopped;
    while (goes_on && round_->now() != nullptr) goes_on = one_step();
    keep();
    show(options_.json ? render::to_text(render::check_json(*round_))
                       : render::check_result_page(*round_, style_));
    if (journal_ != nullptr && round_->now() != nullptr) {
      tell("Go on later with: whichlink check --model '" + options_.model + "' --resume" +
           (options_.record.file.empty() ? "" : " --record '" + options_.record.file + "'") + "\n");
    }
    return kDone;
  }

 private:
  using Step = routine::Step;

  // On the disk before the next question.
  void keep() {
    if (journal_ != nullptr) journal_->keep(*round_, round_->now() == nullptr);
  }

  void check_coupler() const {
    if (options_.coupler.empty()) return;
    std::vector<std::string> names;
    for (const faults::ReferenceLevels& one : setting_.rules().routine->levels) {
      names.push_back(one.name);
    }
    if (is_one_of(options_.coupler, names)) return;
    refuse(Problem{{"--coupler", 0, 0},
                   "no reference levels \"" + options_.coupler + "\"",
                   one_of(names),
                   nearest(options_.coupler, names)});
  }

  void tell(const std::string& text) const {
    if (!options_.json) show(text);
  }

  // False when the check is stopped.
  bool one_step() {
    const Step step = *round_->now();
    tell(render::check_step_page(*round_, step, style_));
    tell(render::check_answer_line(*round_, step, style_));
    bool answered = false;
    bool stopped = false;
    while (!answered && !stopped) {
      bool asked_again = false;  // something came between the question and its answer
      const bool more =
          ask(prompt_, keys_of(step), [&](const Answer& answer) -> std::optional<Problem> {
            if (is_one_of(answer.text, {"q", "stop"})) {
              stopped = true;
              return std::nullopt;
            }
            if (is_one_of(answer.text, {"h", "?", "help"})) {
              tell(render::check_help_page(*round_, step, style_));
              return std::nullopt;
            }
            if (is_one_of(answer.text, {"b", "take back"})) {
              if (!round_->take_back()) {
                return Problem{answer.place, "there is no answer to take back", "an answer", ""};
              }
              keep();
              answered = true;
              return std::nullopt;
            }
            if (is_one_of(answer.text, {"l", "level"}) && takes_levels(step)) {
              tell("Frequency and reading, as in \"1000 77.5\":\n");
              ask(prompt_, {}, [&](const Answer& reading) { return read_level(step, reading); });
              asked_again = true;
              return std::nullopt;
            }
            auto problem = say(step, answer);
            answered = !problem.has_value();
            return problem;
          });
      if (!more || stopped) return false;
      switch (offer_isolation()) {
        case Offer::gone_through:
          break;
        case Offer::taken_back:
          return true;
        case Offer::stopped:
          return false;
      }
      if (asked_again) tell(render::check_answer_line(*round_, step, style_));
    }
    return true;
  }

  [[nodiscard]] bool takes_levels(const Step& step) const {
    return !step.routes.empty() &&
           routine::levels_of(setting_, step.routes.front(), "", {}).has_value();
  }

  [[nodiscard]] const faults::Sense& sense_of(const Step& step) const {
    const SignalId signal = setting_.chain().routes[step.routes.front()].signal;
    return setting_.rules().senses[setting_.rules().signals[signal].sense];
  }

  // Keys that need no Enter; where a number may be typed, digits are none of them.
  [[nodiscard]] std::vector<std::string> keys_of(const Step& step) const {
    std::vector<std::string> keys = {"k", "b", "h", "?", "q"};
    if (step.kind != routine::Kind::look) keys.emplace_back("u");
    if (takes_levels(step)) keys.emplace_back("l");
    const bool symptoms = step.kind == routine::Kind::listen && !step.is_pair();
    if (symptoms) {
      for (const faults::Symptom& symptom : sense_of(step).symptoms) keys.push_back(symptom.key);
      if (sense_of(step).elsewhere) keys.push_back(sense_of(step).elsewhere->key);
      return keys;
    }
    keys.emplace_back("y");
    if (step.kind != routine::Kind::thresholds) keys.emplace_back("n");
    if (step.is_pair() && step.kind == routine::Kind::listen) {
      for (const char* key : {"x", "1", "2"}) keys.emplace_back(key);
    }
    return keys;
  }

  [[nodiscard]] guide::Report report_of(const Step& step, const std::string& text) const {
    using routine::Kind;
    if (is_one_of(text, {"u", guide::kNotSure})) return {guide::kNotSure, {}};
    if (is_one_of(text, {"k", guide::kCannotDo, "can't do"})) return {guide::kCannotDo, {}};
    if (step.kind == Kind::thresholds) {
      if (is_one_of(text, {"y", routine::kWithin})) return {routine::kWithin, {}};
      const std::optional<double> change = number_in(text);
      return change ? guide::Report{"weak", change} : guide::Report{text, {}};
    }
    if (step.kind == Kind::listen && !step.is_pair()) {
      for (const faults::Symptom& symptom : sense_of(step).symptoms) {
        if (symptom.key == text) return {symptom.name, {}};
      }
      const auto& elsewhere = sense_of(step).elsewhere;
      if (elsewhere && elsewhere->key == text) return {elsewhere->name, {}};
      return report_from(text);
    }
    static const std::vector<std::pair<std::string, std::string>> kPair = {
        {"y", routine::kAsItShould},
        {"x", routine::kSwapped},
        {"1", routine::kOneSide},
        {"2", routine::kBothInOne},
        {"n", routine::kNotRight}};
    static const std::vector<std::pair<std::string, std::string>> kYesOrNo = {{"y", routine::kYes},
                                                                              {"n", routine::kNo}};
    for (const auto& [key, words] : step.kind == Kind::listen ? kPair : kYesOrNo) {
      if (key == text) return {words, {}};
    }
    return {text, {}};
  }

  std::optional<Problem> say(const Step& step, const Answer& answer) {
    routine::Said said{step.name, report_of(step, answer.text), std::nullopt, answer.place};
    // What the engine takes is known before anything more is asked.
    routine::CheckFile before = round_->events();
    if (auto problem = round_->take(said)) return problem;
    keep();
    if (!asks_when(step, said.report)) return std::nullopt;
    tell(render::when_line(style_));
    bool taken_back = false;
    const bool told =
        ask(prompt_, {"y", "n", "u", "b"}, [&](const Answer& when) -> std::optional<Problem> {
          if (is_one_of(when.text, {"b", "take back"})) {
            taken_back = true;
          } else if (when.text == "y") {
            said.when = routine::When::untouched;
          } else if (when.text == "n") {
            said.when = routine::When::stressed;
          } else if (is_one_of(when.text, {"u", guide::kNotSure})) {
            said.when = routine::When::not_sure;
          } else {
            return Problem{when.place, "no answer \"" + when.text + "\"", "y, n, u or b", ""};
          }
          return std::nullopt;
        });
    if (!told) return std::nullopt;
    if (!taken_back) before.done.emplace_back(said);
    round_ = must(routine::Round::open(setting_, std::move(before)));
    keep();
    return std::nullopt;
  }

  [[nodiscard]] bool asks_when(const Step& step, const guide::Report& report) const {
    if (step.kind != routine::Kind::listen || step.is_pair() || step.stresses.empty()) return false;
    if (report.drop_db) return true;
    return !is_one_of(report.heard,
                      {guide::kNotSure, guide::kCannotDo, sense_of(step).symptoms.front().name});
  }

  std::optional<Problem> read_level(const Step& step, const Answer& answer) {
    const std::vector<std::string> words = words_of(answer.text);
    const std::size_t count = words.size();
    const std::optional<double> hz = count >= 2 ? number_in(words[count - 2]) : std::nullopt;
    const std::optional<double> db = count >= 2 ? number_in(words[count - 1]) : std::nullopt;
    if (!hz || !db) {
      return Problem{answer.place, "\"" + answer.text + "\" is no reading",
                     "a frequency in Hz and a level in dB, such as 1000 77.5", ""};
    }
    std::string named;
    for (std::size_t index = 0; index + 2 < count; ++index) {
      named += (index == 0 ? "" : " ") + words[index];
    }
    const chain::Chain& chain = setting_.chain();
    std::vector<std::string> sides;
    std::optional<RouteId> route;
    if (step.routes.size() == 1 && named.empty()) route = step.routes.front();
    for (const RouteId one : step.routes) {
      const chain::Route& candidate = chain.routes[one];
      sides.push_back(candidate.side.empty() ? candidate.name : candidate.side);
      if (named == candidate.name || (!named.empty() && named == candidate.side)) route = one;
    }
    if (!route) {
      return Problem{answer.place,
                     named.empty() ? "a reading of which side?" : "no side \"" + named + "\" here",
                     one_of(sides), nearest(named, sides)};
    }
    routine::Read read{chain.routes[*route].name, coupler_for(*route), *hz, *db, answer.place};
    if (auto problem = round_->take(read)) return problem;
    keep();
    tell(render::level_line(round_->outcome().levels.back(), style_));
    return std::nullopt;
  }

  [[nodiscard]] std::string coupler_for(RouteId route) const {
    for (const faults::ReferenceLevels& one : setting_.rules().routine->levels) {
      if (one.name == options_.coupler && one.signal == setting_.chain().routes[route].signal) {
        return one.name;
      }
    }
    return "";
  }

  enum class Offer { gone_through, taken_back, stopped };

  // Each route that has failed since the last answer: now or later.
  Offer offer_isolation() {
    for (const RouteId route : round_->to_isolate()) {
      tell(render::failed_line(*round_, route, style_));
      std::optional<guide::Stage> stage;
      Offer offer = Offer::gone_through;
      const bool told =
          ask(prompt_, {"i", "g", "b", "q"}, [&](const Answer& answer) -> std::optional<Problem> {
            if (is_one_of(answer.text, {"g", "go on"})) {
              stage = guide::Stage::under_way;
            } else if (is_one_of(answer.text, {"i", "isolate"})) {
              stage = isolate_(round_->case_of(route));
            } else if (is_one_of(answer.text, {"b", "take back"})) {
              offer = Offer::taken_back;
            } else if (is_one_of(answer.text, {"q", "stop"})) {
              offer = Offer::stopped;
            } else {
              return Problem{answer.place, "no answer \"" + answer.text + "\"", "i, g, b or q", ""};
            }
            return std::nullopt;
          });
      if (!told) return Offer::stopped;
      if (offer == Offer::taken_back) {
        round_->take_back();
        keep();
      }
      if (offer != Offer::gone_through) return offer;
      const auto problem =
          round_->take(routine::Isolated{setting_.chain().routes[route].name, *stage, {}});
      if (problem) refuse(*problem);
      keep();
    }
    return Offer::gone_through;
  }

  const CheckCommandOptions& options_;
  Prompt& prompt_;
  Isolate isolate_;
  CheckJournal* journal_;
  render::Style style_;
  moves::Setting setting_;
  std::unique_ptr<routine::Round> round_;
};

routine::CheckFile begun(const CheckCommandOptions& options) {
  routine::CheckFile events = check_of(options.about);
  events.model = options.model;
  events.at = options.record.clock().now();
  return events;
}

/// What a check begins from, and where it is written down.
struct CheckStart {
  routine::CheckFile events;
  std::shared_ptr<record::Record> record;
  std::unique_ptr<CheckJournal> journal;
};

// The newest check of the installation that has not ended.
CheckStart resumed(const CheckCommandOptions& options, const std::string& installation) {
  CheckStart start;
  const std::string path = options.record.file_or_default();
  start.record = existing_record(path);
  const auto number = must(start.record->last_open_check(installation));
  if (!number) {
    refuse(path, "has no check of " + installation + " to go on with",
           "one that was stopped on the way; without --resume a new one begins");
  }
  const record::CheckStory story = must(start.record->check_story_of(*number));
  start.events = must(history::check_file_of(story, {path, 0, 0}));
  start.journal =
      std::make_unique<CheckJournal>(start.record, options.record.clock(), number, story.answers);
  return start;
}

CheckStart begun(const CheckCommandOptions& options, bool at_terminal) {
  CheckStart start;
  start.events = begun(options);
  start.record = record_for(options.record, at_terminal);
  if (start.record) {
    start.journal = std::make_unique<CheckJournal>(
        start.record, options.record.clock(), std::nullopt, std::vector<record::CheckAnswer>());
  }
  return start;
}

int check(const CheckCommandOptions& options) {
  if (options.model.empty()) refuse("--model", "is missing", "an installation");
  const moves::Installation judged = load_installation(options.model);
  const std::unique_ptr<Prompt> prompt = prompt_for(options.answers);
  const CheckStart start =
      options.resume ? resumed(options, judged.name) : begun(options, prompt->asks_again());
  const moves::Installation installation =
      by_record(judged, start.record.get(), options.record.clock());
  const Isolate isolate = [&](guide::CaseFile events) {
    // Two documents in one output are none: with --json a failed route is left for later.
    if (options.json) return guide::Stage::under_way;
    events.model = options.model;
    Journals journals;
    if (start.record) {
      journals.push_back(record_journal(start.record, installation.name, options.record.clock(),
                                        std::nullopt, options.record.file));
    }
    return sit(installation, std::move(events), {false, {}}, *prompt, journals);
  };
  return Checking(installation, options, *prompt, isolate, start.journal.get()).run(start.events);
}

}  // namespace

Command check_command(CLI::App& program) {
  const auto options = std::make_shared<CheckCommandOptions>();
  CLI::App* app = program.add_subcommand(
      "check", "Listen to every route in turn, the routine check, and mark what fails");
  app->add_option("--model", options->model,
                  "The installation: a file, or the name of one that comes with whichlink");
  add_check_options(*app, options->about);
  app->add_option("--coupler", options->coupler,
                  "Which reference levels a meter's reading is held against");
  add_record_option(*app, options->record);
  add_at_option(*app, options->record);
  app->add_flag("--resume", options->resume,
                "Go on with the newest check of the installation that was stopped on the way");
  app->add_option("--answers", options->answers,
                  "Answers from a file, one a line, instead of a terminal");
  app->add_flag("--json", options->json, "Write JSON");
  return {app, [options] { return check(*options); }};
}

}  // namespace whichlink::cli
