#include "render/check_words.h"

#include <algorithm>

namespace whichlink::render {

using routine::Verdict;

std::string when_words(const std::optional<routine::When>& when) {
  if (!when) return "";
  switch (*when) {
    case routine::When::untouched:
      return "untouched";
    case routine::When::stressed:
      return "only under stress";
    case routine::When::not_sure:
      return "";
  }
  return "";
}

std::string stage_words(guide::Stage stage) {
  switch (stage) {
    case guide::Stage::under_way:
      return "left for later";
    case guide::Stage::mended:
      return "mended";
    case guide::Stage::nothing_found:
      return "nothing found";
    case guide::Stage::handed_over:
      return "handed over to service";
  }
  return "";
}

std::string verdict_words(Verdict verdict) {
  switch (verdict) {
    case Verdict::passed:
      return "passed";
    case Verdict::failed:
      return "FAILED";
    case Verdict::mended:
      return "mended";
    case Verdict::not_checked:
      return "not checked";
  }
  return "";
}

std::vector<std::string> all_cautions(const routine::Round& round) {
  const faults::Rules& rules = round.setting().rules();
  std::vector<std::string> words;
  for (const std::size_t caution : rules.always) words.push_back(rules.cautions[caution].words);
  for (const std::size_t caution : round.plan().cautions) {
    const std::string& one = rules.cautions[caution].words;
    if (std::find(words.begin(), words.end(), one) == words.end()) words.push_back(one);
  }
  return words;
}

}  // namespace whichlink::render
