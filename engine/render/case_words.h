#pragma once

#include <optional>
#include <string>
#include <vector>

#include "guide/case.h"

/// What the pages of a case say, without how they are laid out: the terminal and the pocket page
/// show the same words.
namespace whichlink::render {

/// One thing that can be reported through a sense.
struct Answer {
  std::string name;   ///< as case files write it
  std::string key;    ///< that answers it at a prompt
  std::string words;  ///< how a colleague says it
};

/// Everything that can be reported through a sense on this signal, in the order of the rules;
/// "nothing wrong" is the first.
[[nodiscard]] std::vector<Answer> answers_of(const faults::Rules& rules,
                                             const faults::Signal& signal, SenseId sense);
/// Whether a drop in dB is an answer as well.
[[nodiscard]] bool has_levels(const faults::Sense& sense);
/// What a report is called at this sense, on this signal.
[[nodiscard]] std::string report_words(const faults::Rules& rules, const faults::Signal& signal,
                                       SenseId sense, std::size_t outcome);
/// "weak by 25 dB", or the symptom's name.
[[nodiscard]] std::string report_text(const guide::Report& report);

/// What was complained of, and when the route last passed a check.
[[nodiscard]] std::string complaint_words(const guide::Case& one);
/// Cautions by their indices in the rules.
[[nodiscard]] std::vector<std::string> caution_words(const faults::Rules& rules,
                                                     const std::vector<std::size_t>& cautions);
/// Where a move is made and listened to, and how long it takes.
[[nodiscard]] std::string where_words(const moves::Setting& setting, const moves::Move& move);
/// What the move is expected to bring; empty where it is no candidate of the plan.
[[nodiscard]] std::string expected_words(const guide::Case& one, const guide::Advice& advice,
                                         const moves::Move& move);

/// How likely it is that something is wrong with a part.
struct PartSuspicion {
  PartId part;
  double chance = 0;
  bool in_the_way = true;  ///< the signal passes it as things are plugged now
};
/// Parts in the order of the signal: those on the way now, and those that were on it at the start.
[[nodiscard]] std::vector<PartSuspicion> suspicion_by_part(const guide::Case& one);

/// What a case came to.
struct EndingWords {
  /// A list under a title, or single sentences where there is none.
  struct Block {
    std::string title;
    std::vector<std::string> lines;  ///< never empty
  };
  std::string title;
  std::string summary;
  std::vector<Block> blocks;
};
[[nodiscard]] EndingWords ending_words(const guide::Case& one, const guide::Ending& ending);

}  // namespace whichlink::render
