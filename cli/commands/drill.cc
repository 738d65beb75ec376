#include <algorithm>
#include <charconv>
#include <memory>

#include "drill_sitting.h"
#include "history/progress.h"
#include "load/load.h"
#include "record_options.h"
#include "render/progress_pages.h"
#include "shell.h"

/// Training on substitution logic.
namespace whichlink::cli {
namespace {

constexpr std::uint64_t kMostSeed = 1'000'000'000;

struct DrillOptions {
  RecordOptions record;
  std::string lessons;  ///< a file, or the name of one that comes with whichlink
  std::string lesson;   ///< a name or a number
  std::string which;    ///< of the case: a name or a number
  std::optional<std::uint64_t> seed;
  std::string trainee;
  std::string answers;
  std::string print;
  std::string plot;
  std::string progress;
  bool whole_class = false;
  bool against = false;
  bool json = false;
};

// The place of a name in a list, or of a number from 1.
template <class Thing>
std::size_t find_in(const std::vector<Thing>& things, const std::string& asked,
                    const std::string& option, const std::string& kind) {
  std::size_t number = 0;
  const char* end = asked.data() + asked.size();
  const auto [rest, error] = std::from_chars(asked.data(), end, number);
  if (error == std::errc() && rest == end && number >= 1 && number <= things.size()) {
    return number - 1;
  }
  std::vector<std::string> names;
  names.reserve(things.size());
  for (const Thing& thing : things) names.push_back(thing.name);
  const auto found = std::find(names.begin(), names.end(), asked);
  if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
  refuse(Problem{{option, 0, 0},
                 "no " + kind + " \"" + asked + "\"",
                 "a number from 1 to " + std::to_string(things.size()) + ", or " + one_of(names),
                 nearest(asked, names)});
}

std::string code_of(const std::string& given, const std::string& option) {
  return must(load::trainee_code(given, {option, 0, 0}));
}

void write_files(const DrillOptions& options, const std::string& page, const std::string& whose,
                 const drill::Calibration& calibration) {
  if (!options.print.empty()) keep_file(options.print, page);
  if (!options.plot.empty()) {
    keep_file(options.plot, render::calibration_plot(whose, calibration));
  }
}

// For paper: no colour, no signs that a printer may lack.
render::Style plain_style() {
  return {80, false, false};
}

int tell_progress(const DrillOptions& options) {
  const std::string code = code_of(options.progress, "--progress");
  const auto record = open_record(options.record.file_or_default(), record::Access::read);
  const history::Progress progress = history::progress_of(code, must(record->drills(code)));
  if (progress.drills.empty()) {
    refuse(options.record.file_or_default(), "has no drill of " + code,
           "a trainee with a drill on record");
  }
  write_files(options, render::progress_page(progress, plain_style()), code, progress.calibration);
  show(options.json ? render::to_text(render::progress_json(progress))
                    : render::progress_page(progress, style_of_output()));
  return kDone;
}

int tell_class(const DrillOptions& options) {
  const auto record = open_record(options.record.file_or_default(), record::Access::read);
  const std::vector<record::Drilled> drills = must(record->drills(""));
  if (drills.empty()) {
    refuse(options.record.file_or_default(), "has no drill", "drills with --trainee CODE");
  }
  const history::ClassView view = history::class_of(drills);
  write_files(options, render::class_page(view, plain_style()), "the class",
              history::progress_of("", drills).calibration);
  show(options.json ? render::to_text(render::class_json(view))
                    : render::class_page(view, style_of_output()));
  return kDone;
}

int list_lessons(const DrillOptions& options, const drill::Lessons& lessons) {
  std::optional<history::Progress> progress;
  if (!options.trainee.empty()) {
    const std::string code = code_of(options.trainee, "--trainee");
    const auto record = open_record(options.record.file_or_default(), record::Access::read);
    progress = history::progress_of(code, must(record->drills(code)));
  }
  const auto page = [&](const render::Style& style) {
    return render::lessons_page(lessons, progress ? &*progress : nullptr, style);
  };
  if (!options.print.empty()) keep_file(options.print, page(plain_style()));
  show(options.json ? render::to_text(render::lessons_json(lessons)) : page(style_of_output()));
  return kDone;
}

// The first case of the lesson that is not on record for the trainee; the first where all are.
std::size_t next_case(const drill::Lesson& lesson, const std::string& trainee,
                      const record::Record* record) {
  if (record == nullptr || trainee.empty()) return 0;
  const std::vector<record::Drilled> done = must(record->drills(trainee));
  for (std::size_t index = 0; index < lesson.cases.size(); ++index) {
    const bool played = std::any_of(done.begin(), done.end(), [&](const record::Drilled& one) {
      return one.lesson == lesson.name && one.drill_case == lesson.cases[index].name;
    });
    if (!played) return index;
  }
  return 0;
}

int play(const DrillOptions& options, const drill::Lessons& lessons) {
  const std::string trainee = options.trainee.empty() ? "" : code_of(options.trainee, "--trainee");
  const drill::Lesson& lesson =
      lessons.lessons[find_in(lessons.lessons, options.lesson, "--lesson", "lesson")];
  const std::unique_ptr<Prompt> prompt = prompt_for(options.answers);
  const auto record = trainee.empty() ? nullptr : record_for(options.record, prompt->asks_again());
  const std::size_t index = options.which.empty()
                                ? next_case(lesson, trainee, record.get())
                                : find_in(lesson.cases, options.which, "--case", "case");
  drill::DrillCase given = lesson.cases[index];
  if (options.seed) given.seed = *options.seed;
  const moves::Installation installation =
      must(drill::as_found(load_installation(given.model), given));
  const render::DrillTitle title{lesson.name, lesson.goal, lesson.hint, index + 1, trainee};
  const auto drill = must(drill::Drill::open(installation, given));
  drill_on(*drill, title, {options.json, options.against}, *prompt);
  std::unique_ptr<drill::Drill> planner;
  if (options.against) {
    planner = must(drill::Drill::open(installation, given));
    planner->play_out();
  }
  if (drill->stage() != drill::Stage::ended) {
    show(options.json ? render::to_text(render::drill_json(*drill, title, nullptr))
                      : "Put aside. Nothing is kept.\n");
    return kDone;
  }
  const auto page = [&](const render::Style& style) {
    return render::drill_summary_page(*drill, title, planner.get(), style);
  };
  if (record) {
    must(record->add_drill(history::drilled(*drill, trainee, lesson.name),
                           options.record.clock().now()));
  }
  std::vector<drill::Said> said;
  for (const drill::Claim& claim : drill->claims()) said.push_back({claim.sure, claim.is_true});
  write_files(options, page(plain_style()), trainee.empty() ? lesson.name : trainee,
              drill::calibration_of(said));
  show(options.json ? render::to_text(render::drill_json(*drill, title, planner.get()))
                    : page(style_of_output()));
  return kDone;
}

int drill(const DrillOptions& options) {
  if (!options.progress.empty()) return tell_progress(options);
  if (options.whole_class) return tell_class(options);
  const drill::Lessons lessons = load_lessons(options.lessons);
  if (options.lesson.empty()) return list_lessons(options, lessons);
  return play(options, lessons);
}

}  // namespace

Command drill_command(CLI::App& program) {
  const auto options = std::make_shared<DrillOptions>();
  CLI::App* app = program.add_subcommand(
      "drill", "Train: isolate a fault that the program plays, and be scored against the plan");
  app->add_option("--lesson", options->lesson,
                  "The lesson, by its name or number (none: list them)");
  app->add_option("--case", options->which, "Its case, by name or number (default: the next one)");
  app->add_option("--seed", options->seed, "What the room answers by (default: the case's own)")
      ->check(CLI::Range(std::uint64_t{0}, kMostSeed));
  app->add_option("--lessons", options->lessons,
                  "A trainer's own file of lessons, or the name of one that comes with whichlink");
  app->add_flag("--against", options->against, "Show what the planner would do, and its own way");
  app->add_option("--trainee", options->trainee,
                  "Put it on record under this code: letters, digits and dashes, no name");
  app->add_option("--progress", options->progress, "Tell how the trainee of this code gets on");
  app->add_flag("--class", options->whole_class, "Tell who struggles with which lesson");
  app->add_option("--answers", options->answers,
                  "What the trainee types from a file, one a line, instead of a terminal");
  app->add_option("--print", options->print, "Write the summary to this file, plain, for paper");
  app->add_option("--plot", options->plot, "Write how sure against how right to this SVG file");
  add_record_option(*app, options->record);
  add_at_option(*app, options->record);
  app->add_flag("--json", options->json, "Write JSON");
  return {app, [options] { return drill(*options); }};
}

}  // namespace whichlink::cli
