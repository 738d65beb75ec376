#include "render/form_pages.h"

#include <fmt/format.h>

#include <algorithm>

namespace whichlink::render {
namespace {

std::string default_words(const draft::Question& question, const draft::Said& usual) {
  std::string words = typed(question, usual);
  if (question.ask == draft::Ask::number) words += " " + question.unit;
  return words + (usual.known ? "" : ", not known");
}

}  // namespace

std::string form_opening_page(const Style& style) {
  return wrapped(
             "Answer with a number of the list, a name or a figure. Enter takes what stands in "
             "brackets. Where you do not know, say so: the usual is taken and marked in the file.",
             "", style.width) +
         wrapped(
             "At any question: ? (why it is asked), b (back), d (don't know), c (show the "
             "chain), q (stop for now; your answers are kept).",
             "", style.width);
}

std::string question_page(const draft::Question& question, const draft::Said& usual,
                          const Style& style) {
  std::string out = "\n" + wrapped(bold(question.asks, style), "", style.width);
  for (std::size_t index = 0; index < question.choices.size(); ++index) {
    const draft::Choice& choice = question.choices[index];
    const bool is_its_number = choice.name == std::to_string(index + 1);
    const std::string words = choice.words.empty() ? choice.name
                              : is_its_number      ? choice.words
                                              : fmt::format("{}: {}", choice.name, choice.words);
    out += wrapped(words, fmt::format("  {:>2}  ", index + 1), style.width);
  }
  if (question.ask == draft::Ask::some) {
    out += std::string("  Numbers parted by blanks, or: all") +
           (question.may_be_none ? ", none" : "") + "\n";
  }
  return out + wrapped(fmt::format("[{}]", default_words(question, usual)), "  ", style.width);
}

std::string question_help(const draft::Question& question, const Style& style) {
  const std::string out = wrapped(question.because, "  ", style.width);
  return out + wrapped("Or: b (back), d (don't know), c (show the chain), q (stop for now).", "  ",
                       style.width);
}

std::string kept_line(const std::vector<std::string>& kept, const Style& style) {
  if (kept.empty()) return "";
  constexpr std::size_t kShown = 3;
  std::vector<std::string> shown(
      kept.begin(), kept.begin() + static_cast<std::ptrdiff_t>(std::min(kShown, kept.size())));
  if (kept.size() > kShown) shown.push_back(fmt::format("{} more", kept.size() - kShown));
  return wrapped(fmt::format("No question is about {}: {} as {}.", listed(shown),
                             kept.size() == 1 ? "it stays" : "they stay",
                             kept.size() == 1 ? "it is" : "they are"),
                 "", style.width);
}

std::string draft_page(const draft::Draft& draft, const std::string& file, const Style& style) {
  const draft::Sketch& sketch = draft.sketch;
  const auto counted = [](std::size_t count, const char* one) {
    return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
  };
  std::string out = "\n" + wrapped(fmt::format("Written to {}: {}, {} and {}.", file,
                                               counted(sketch.parts.size(), "part"),
                                               counted(sketch.routes.size(), "route"),
                                               counted(sketch.spares.size(), "spare")),
                                   "", style.width);
  if (!draft.unknown.empty()) {
    out += "\n" + heading("Find out", style);
    for (const draft::Guess& one : draft.unknown) {
      out += wrapped(fmt::format("{} (taken: {})", one.question.asks,
                                 default_words(one.question, {one.said.value, true})),
                     "  - ", style.width);
    }
  }
  bool any_look = false;
  for (const draft::Block& block : draft.blocks) {
    if (block.look.empty()) continue;
    if (!any_look) out += "\n" + heading("Check by eye", style);
    any_look = true;
    out += wrapped(block.look, "  - ", style.width);
  }
  return out + "\n";
}

}  // namespace whichlink::render
