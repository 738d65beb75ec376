#include <algorithm>
#include <filesystem>
#include <memory>

#include "base/utf8.h"
#include "draft/draft.h"
#include "guide/survey.h"
#include "load/load.h"
#include "moves/setting.h"
#include "prompt.h"
#include "render/chain_drawing.h"
#include "render/form_pages.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

namespace fs = std::filesystem;

struct NewOptions {
  std::string from;
  std::string rules;
  std::string out;
  std::string answers;
  std::string draw;
  bool resume = false;
  bool replace = false;
};

bool exists(const std::string& file) {
  std::error_code none;
  return fs::exists(file, none);
}

/// What is wrong with an answer whatever the question: it goes into a file, on one line.
std::optional<Problem> bad_bytes(const Answer& answer) {
  for (std::size_t offset = 0; offset < answer.text.size();) {
    const auto code = next_code_point(answer.text, offset);
    if (!code) return Problem{answer.place, "bytes that are no UTF-8", "plain text", ""};
    if (is_control(*code)) {
      return Problem{answer.place, "a control character", "plain text", ""};
    }
  }
  if (answer.text.rfind('#', 0) == 0) {  // typed only: in a file such a line is a note
    return Problem{answer.place, "an answer that begins with #", "one that does not", ""};
  }
  return std::nullopt;
}

/// One sitting at the form: asks, shows the chain as it grows, keeps the answers, writes the file.
class Describing {
 public:
  Describing(const NewOptions& options, Prompt& prompt)
      : options_(options), prompt_(prompt), style_(style_of_output()) {}

  int run() {
    out_ = options_.out;
    if (out_.empty() && exists(options_.from)) out_ = options_.from;
    if (out_.empty()) out_ = "installation.yaml";
    check_out();
    std::vector<std::string> kept_lines;
    if (options_.resume) kept_lines = read_kept();
    begin(kept_lines);
    replay(kept_lines);
    show(render::form_opening_page(style_));
    if (was_read_) show(render::kept_line(inferred_.kept_words, style_));
    draw();
    while (true) {
      const draft::Form form = form_now();
      if (given_.size() == form.questions.size()) return finish(form);
      if (!one_question(form)) return put_aside();
    }
  }

 private:
  struct Given {
    std::string key;
    std::string asks;
    std::string typed;
  };

  [[nodiscard]] std::string kept_file() const { return out_ + ".answers"; }

  // Before anybody has answered anything.
  void check_out() const {
    if (exists(out_) && !options_.replace && !prompt_.asks_again()) {
      refuse(out_, "is there already", "another --out, or --replace");
    }
    if (options_.resume && !exists(kept_file())) {
      refuse(kept_file(), "is not there", "answers that were kept; without --resume to begin");
    }
    if (!options_.resume && exists(kept_file())) {
      refuse(kept_file(), "holds answers of an earlier time",
             "--resume to go on with them, another --out, or that file moved away");
    }
  }

  [[nodiscard]] std::vector<std::string> read_kept() const {
    const auto lines = lines_prompt(must(load::read_file(kept_file())), kept_file());
    std::vector<std::string> all;
    while (const auto answer = lines->next({})) {
      if (const auto problem = bad_bytes(*answer)) refuse(*problem);
      all.push_back(answer->text);
    }
    return all;
  }

  // The rules, and what an earlier file says.
  void begin(std::vector<std::string>& kept_lines) {
    if (!options_.from.empty()) {
      const std::string file = installation_path(options_.from);
      const std::string text = must(load::read_file(file));
      rules_name_ = must(load::rules_name_in(text, file));
      rules_ = load_rules(rules_name_);
      check_outlines();
      inferred_ = draft::inferred_from(rules_, must(load::installation_from(text, file, rules_)));
      inferred_.answers = draft::marked_as_in(text, rules_, std::move(inferred_.answers));
      was_read_ = true;
      return;
    }
    rules_name_ = options_.rules;
    if (!kept_lines.empty()) {
      rules_name_ = kept_lines.front();
      kept_lines.erase(kept_lines.begin());
    }
    if (rules_name_.empty()) ask_rules();
    rules_ = load_rules(rules_name_);
    check_outlines();
  }

  void check_outlines() const {
    if (rules_.outlines) return;
    refuse(rules_name_, "says nothing of how its signals are usually laid",
           "rules with `outlines`");
  }

  void ask_rules() {
    draft::Question question;
    question.asks = "What is to be described?";
    question.because = "The rules say what can go bad there, and what there is to ask.";
    question.ask = draft::Ask::one;
    for (const std::string& name : known_rules()) {
      question.choices.push_back({name, load_rules(name).trade});
    }
    if (question.choices.empty()) refuse("rules", "there are none", "files of rules");
    question.usual = question.choices.front().name;
    rules_name_ = question.usual;
    show(render::question_page(question, {question.usual, true}, style_));
    ask(prompt_, keys_of(question), [&](const Answer& answer) -> std::optional<Problem> {
      if (auto problem = bad_bytes(answer)) return problem;
      auto said = draft::answer_to(question, answer.text, answer.place);
      if (!said) return said.error().front();
      rules_name_ = said->value;
      return std::nullopt;
    });
  }

  void replay(const std::vector<std::string>& lines) {
    int number = 0;
    for (const std::string& line : lines) {
      const draft::Form form = form_now();
      if (given_.size() == form.questions.size()) return;
      const draft::Question& question = form.questions[given_.size()];
      take(question, must(draft::answer_to(question, line, {kept_file(), ++number, 1})));
    }
  }

  [[nodiscard]] draft::Form form_now() const {
    return draft::form_of(rules_, answers_, inferred_.answers);
  }

  static std::vector<std::string> keys_of(const draft::Question& question) {
    if (question.ask != draft::Ask::one) return {};
    std::vector<std::string> keys;
    constexpr std::size_t kOneDigit = 9;
    const std::size_t count = question.choices.size();
    for (std::size_t choice = 1; choice <= count && count <= kOneDigit; ++choice) {
      keys.push_back(std::to_string(choice));
    }
    if (!question.key.empty()) {
      for (const char* key : {"?", "b", "d", "c", "q"}) keys.emplace_back(key);
    }
    return keys;
  }

  /// What Enter takes: the answer of before, where somebody went back.
  [[nodiscard]] draft::Said usual_of(const draft::Question& question) const {
    const auto before = before_.find(question.key);
    draft::Said usual{question.usual, question.usual_known};
    if (before == before_.end()) return usual;
    // Other answers may have gone since, and this one with them.
    const auto again =
        draft::answer_to(question, draft::typed(question, before->second), {"", 0, 0});
    return again ? draft::Said{again->value, before->second.known} : usual;
  }

  enum class Went { on, back, away };

  // False at the end of input, or when somebody stops.
  bool one_question(const draft::Form& form) {
    const draft::Question& question = form.questions[given_.size()];
    show(render::question_page(question, usual_of(question), style_));
    auto went = Went::away;
    bool asked_again = true;
    while (asked_again) {
      asked_again = false;
      const bool more =
          ask(prompt_, keys_of(question), [&](const Answer& answer) -> std::optional<Problem> {
            if (auto problem = bad_bytes(answer)) return problem;
            if (is_one_of(answer.text, {"?", "why", "help"})) {
              show(render::question_help(question, style_));
              asked_again = true;
              return std::nullopt;
            }
            if (is_one_of(answer.text, {"chain", "c"})) {
              show_chain({});
              asked_again = true;
              return std::nullopt;
            }
            if (is_one_of(answer.text, {"stop", "q"})) return std::nullopt;
            if (is_one_of(answer.text, {"back", "b"})) {
              if (given_.empty()) {
                return Problem{answer.place, "this is the first question", "an answer", ""};
              }
              went = Went::back;
              return std::nullopt;
            }
            return accept(question, answer, went);
          });
      if (!more) return false;
    }
    if (went == Went::back) step_back();
    if (went != Went::away) {
      if (prompt_.asks_again()) keep();
      draw();
    }
    return went != Went::away;
  }

  std::optional<Problem> accept(const draft::Question& question, const Answer& answer, Went& went) {
    const bool is_enter = answer.text.empty() || answer.text == "default";
    if (is_enter) {
      take(question, usual_of(question));
    } else {
      auto said = draft::answer_to(question, answer.text, answer.place);
      if (!said) return said.error().front();
      take(question, std::move(*said));
    }
    went = Went::on;
    show_what_grew(question);
    return std::nullopt;
  }

  void take(const draft::Question& question, draft::Said said) {
    const std::string text = said.known ? draft::typed(question, said) : "don't know";
    const bool is_usual = said.known && said.value == question.usual;
    const bool can_be_kept = text.size() <= kLongestAnswer && text.rfind('#', 0) != 0;
    given_.push_back({question.key, question.asks, is_usual && !can_be_kept ? "default" : text});
    answers_[question.key] = std::move(said);
  }

  void step_back() {
    const std::string key = given_.back().key;
    given_.pop_back();
    before_[key] = answers_[key];
    answers_.erase(key);
  }

  // Every answer so far, one a line, as --answers and --resume read them.
  [[nodiscard]] std::string answers_text() const {
    std::string text = "# Answers so far; whichlink new --resume goes on with them.\n";
    if (!was_read_) text += "# The rules\n" + rules_name_ + "\n";
    for (const Given& one : given_) text += "# " + one.asks + "\n" + one.typed + "\n";
    return text;
  }
  void keep() const { keep_file(kept_file(), answers_text()); }

  [[nodiscard]] draft::Draft draft_now(const draft::Form& form) const {
    return draft::draft_from(rules_, form, was_read_ ? &inferred_.kept : nullptr);
  }

  /// As far as it was answered: without routes as long as nobody said which there are.
  [[nodiscard]] Result<moves::Installation> installation_now() const {
    draft::Form form = form_now();
    const bool said_which = answers_.contains(draft::kinds_key());
    if (!said_which && !was_read_) form.complete[draft::kinds_key()] = {};
    const draft::Draft draft = draft_now(form);
    if (draft.sketch.routes.empty()) {
      moves::Installation nothing;
      nothing.name = draft.sketch.name;
      nothing.rules = rules_;
      return nothing;
    }
    return load::installation_from(draft::to_text(draft, rules_name_), out_, rules_);
  }

  void draw() const {
    if (options_.draw.empty()) return;
    const auto installation = installation_now();
    if (!installation) return;  // said when the chain is shown, and at the end
    const moves::Setting setting(*installation,
                                 installation->rules.handling.default_days_since_pass);
    keep_file(options_.draw, render::chain_svg(setting));
  }

  // The routes of the kind of equipment that was just answered; once it is said which kinds there
  // are, those of which nothing more is asked.
  void show_what_grew(const draft::Question& question) const {
    const bool said_which = question.key == draft::kinds_key();
    const draft::Form form = form_now();
    std::vector<std::string> names;
    for (const faults::Outline& outline : rules_.outlines->kinds) {
      const auto is_about_it = [&](const draft::Question& one) {
        return one.key.rfind(outline.name + ": ", 0) == 0;
      };
      const bool has_more = std::any_of(form.questions.begin(), form.questions.end(), is_about_it);
      if (said_which ? has_more : !is_about_it(question)) continue;
      for (const faults::OutlineRoute& route : outline.routes) names.push_back(route.name);
    }
    if (!names.empty()) show_chain(names);
  }

  /// @param only  these routes; empty: all
  void show_chain(const std::vector<std::string>& only) const {
    const auto installation = installation_now();
    if (!installation) {
      show("As answered so far it does not fit together:\n  " +
           to_line(installation.error().front()) + "\n");
      return;
    }
    const moves::Setting setting(*installation,
                                 installation->rules.handling.default_days_since_pass);
    const chain::Chain& chain = setting.chain();
    std::string text;
    for (const RouteId route : chain.routes.ids()) {
      if (!only.empty() && !is_one_of(chain.routes[route].name, only)) continue;
      text += chain.routes[route].name + "\n" +
              render::route_drawing(chain, setting.tracer().trace(route, chain.home).path, style_);
    }
    if (text.empty() && !only.empty()) return;
    show(text.empty() ? "No route yet.\n" : text + render::joints_legend(style_) + "\n");
  }

  // The answers, for another time.
  [[nodiscard]] int put_aside() const {
    keep();
    show("Your answers are kept in " + kept_file() + ". Go on later with:\n  whichlink new" +
         (options_.from.empty() ? "" : " --from '" + options_.from + "'") + " --out '" + out_ +
         "' --resume\n");
    return kDone;
  }

  // Answers that are left over have slipped against their questions.
  void check_all_used() {
    if (options_.answers.empty()) return;
    if (const auto more = prompt_.next({})) {
      refuse(Problem{more->place, "an answer to no question", "the last answer before it", ""});
    }
  }

  // What is kept by hand may hang on something that was answered away.
  void check_fits(const std::string& text) const {
    const auto installation = load::installation_from(text, out_, rules_);
    if (installation) return;
    const Problem& first = installation.error().front();
    if (inferred_.kept_words.empty()) refuse(first);
    refuse(Problem{{options_.from, 0, 0},
                   "what was made by hand does not fit these answers: " + first.what,
                   "answers that leave what it hangs on",
                   ""});
  }

  int finish(const draft::Form& form) {
    check_all_used();
    const draft::Draft draft = draft_now(form);
    const std::string text = draft::to_text(draft, rules_name_);
    check_fits(text);
    if (exists(out_) && !options_.replace && !may_replace()) return put_aside();
    if (exists(out_)) set_aside_the_old();
    keep_file(out_, text);
    std::error_code none;
    fs::remove(kept_file(), none);
    show(render::draft_page(draft, out_, style_) + "See it with: whichlink survey " + out_ + "\n");
    return kDone;
  }

  bool may_replace() {
    show(out_ + " is there already. Write over it?\n(yes or no; the old one is kept beside it)\n");
    bool yes = false;
    ask(prompt_, {}, [&](const Answer& answer) -> std::optional<Problem> {
      yes = answer.text == "yes";
      if (yes || answer.text == "no") return std::nullopt;
      return Problem{answer.place, "\"" + answer.text + "\" is neither", "yes or no", ""};
    });
    return yes;
  }

  void set_aside_the_old() const {
    std::string beside = out_ + ".before";
    for (int number = 2; exists(beside); ++number) {
      beside = out_ + ".before-" + std::to_string(number);
    }
    keep_file(beside, must(load::read_file(out_)));
    show("The old file is kept as " + beside + ".\n");
  }

  const NewOptions& options_;
  Prompt& prompt_;
  render::Style style_;
  std::string out_;
  std::string rules_name_;
  faults::Rules rules_;
  bool was_read_ = false;
  draft::Inferred inferred_;  ///< of the earlier file
  draft::Answers answers_;
  draft::Answers before_;  ///< what was answered before somebody went back
  std::vector<Given> given_;
};

}  // namespace

Command new_command(CLI::App& program) {
  const auto options = std::make_shared<NewOptions>();
  CLI::App* app = program.add_subcommand(
      "new", "Describe an installation question by question, and write its file");
  CLI::Option* from = app->add_option(
      "--from", options->from, "Change this installation: a file, or the name of a shipped one");
  app->add_option("--rules", options->rules, "The rules of the trade; asked for if not said")
      ->excludes(from);
  app->add_option("--out", options->out,
                  "The file to write (default: that of --from, or installation.yaml)");
  app->add_option("--answers", options->answers,
                  "Answers from a file, one a line, instead of a terminal");
  app->add_option("--draw", options->draw, "Draw the chain into this SVG file after every answer");
  app->add_flag("--replace", options->replace,
                "Write over the file if it is there; the old one is kept beside it");
  app->add_flag("--resume", options->resume, "Go on with the answers that were kept");
  return {app, [options] {
            const std::unique_ptr<Prompt> prompt = prompt_for(options->answers);
            return Describing(*options, *prompt).run();
          }};
}

}  // namespace whichlink::cli
