#pragma once

#include <string>
#include <vector>

#include "drill/drill.h"
#include "drill/menu.h"
#include "render/json.h"
#include "render/text.h"

/// The pages of a drill, at most Style::width columns wide.
namespace whichlink::render {

/// What a page says of the drill besides what happens in it.
struct DrillTitle {
  std::string lesson;
  std::string goal;
  std::string hint;        ///< the lesson's question
  std::size_t number = 0;  ///< of the case in its lesson, from 1
  std::string trainee;     ///< a code; empty: nobody's
};

/// The first screen: the lesson, the complaint, the chain, the cautions that always hold.
[[nodiscard]] std::string drill_opening_page(const drill::Drill& drill, const DrillTitle& title,
                                             const Style& style);
/// The kinds of moves, and the words that are no moves.
[[nodiscard]] std::string drill_menu(const drill::Drill& drill,
                                     const std::vector<drill::MenuEntry>& menu, const Style& style);
/// The moves of one kind, with their numbers.
[[nodiscard]] std::string drill_kind_page(const drill::Drill& drill,
                                          const std::vector<drill::MenuEntry>& menu,
                                          const drill::MenuEntry& kind, const Style& style);
/// The chain in order, with what is out of the way just now.
[[nodiscard]] std::string drill_chain(const drill::Drill& drill, const Style& style);
/// How the words of the menu are used.
[[nodiscard]] std::string drill_help_page(const drill::Drill& drill, const Style& style);
/// The last move: how it is done, its cautions, the answer, what follows from it and what does not.
/// @param against  with what the planner would have done
[[nodiscard]] std::string drill_turn_page(const drill::Drill& drill, bool against,
                                          const Style& style);
/// The hint that was asked for last.
[[nodiscard]] std::string drill_hint_page(const drill::Drill& drill, const DrillTitle& title,
                                          const Style& style);
/// Asked once the case is closed or handed over: what must be checked before the next use.
[[nodiscard]] std::string drill_checks_page(const drill::Drill& drill, const Style& style);
/// The last claim as it was taken.
[[nodiscard]] std::string claim_line(const drill::Claim& claim, const Style& style);
/// What the drill came to, move by move.
/// @param planner  the same case as the planner plays it; may be null
[[nodiscard]] std::string drill_summary_page(const drill::Drill& drill, const DrillTitle& title,
                                             const drill::Drill* planner, const Style& style);
[[nodiscard]] Json drill_json(const drill::Drill& drill, const DrillTitle& title,
                              const drill::Drill* planner);

}  // namespace whichlink::render
