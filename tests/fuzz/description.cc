#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "answer.h"
#include "base/utf8.h"
#include "draft/draft.h"
#include "load/load.h"

namespace {

using namespace whichlink;
using fuzz::must;

constexpr std::size_t kMostAnswers = 400;

faults::Rules rules_named(const std::string& name) {
  auto loaded = load::rules_file(std::string(WHICHLINK_SOURCE_DIR) + "/rules/" + name + ".yaml");
  must(loaded.has_value(), "shipped rules that cannot be read");
  return std::move(*loaded);
}

/// The next line of the input; empty at its end.
std::string line_of(std::string_view& text) {
  const std::size_t end = std::min(text.find('\n'), text.size());
  std::string line(text.substr(0, end));
  text.remove_prefix(std::min(end + 1, text.size()));
  return line;
}

/// One line of UTF-8 without control characters: what answer_to asks for.
bool is_readable(const std::string& line) {
  for (std::size_t at = 0; at < line.size();) {
    const auto code = next_code_point(line, at);
    if (!code || is_control(*code)) return false;
  }
  return true;
}

/// The first question that nobody has answered; null: none is left.
const draft::Question* unanswered(const draft::Form& form, const draft::Answers& answers) {
  for (const draft::Question& question : form.questions) {
    if (answers.find(question.key) == answers.end()) return &question;
  }
  return nullptr;
}

}  // namespace

// Any lines as answers to what an installation is like: whatever was accepted, the file can be
// read.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const faults::Rules& hearing = *new faults::Rules(rules_named("hearing"));
  static const faults::Rules& stage = *new faults::Rules(rules_named("stage-sound"));
  std::string_view text(reinterpret_cast<const char*>(data), size);
  const bool of_a_stage = !text.empty() && text.front() == 's';
  const faults::Rules& rules = of_a_stage ? stage : hearing;
  line_of(text);
  draft::Answers answers;
  draft::Form form = draft::form_of(rules, answers, {});
  for (std::size_t count = 0; count < kMostAnswers && !text.empty(); ++count) {
    const draft::Question* question = unanswered(form, answers);
    if (question == nullptr) break;
    const std::string line = line_of(text);
    if (!is_readable(line)) continue;
    const auto said = draft::answer_to(*question, line, {"f", 1, 1});
    fuzz::check(said);
    if (!said) continue;
    answers[question->key] = *said;
    form = draft::form_of(rules, answers, {});
  }
  const draft::Draft draft = draft::draft_from(rules, form, nullptr);
  const std::string file = draft::to_text(draft, of_a_stage ? "stage-sound" : "hearing");
  const auto read = load::installation_from(file, "f", rules);
  if (!read) {
    must(false, (to_line(read.error().front()) + "\n" + file).c_str());
  }
  must(read->chain.routes.size() == draft.sketch.routes.size(), "routes that were lost");
  return 0;
}
