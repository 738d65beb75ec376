#pragma once

#include <string>
#include <vector>

#include "moves/move.h"

namespace whichlink::drill {

/// One kind of move, with what is possible of it now. Kinds keep their numbers whatever is
/// possible.
struct MenuEntry {
  std::string words;
  std::vector<moves::Move> moves;  ///< may be empty
};

/// All kinds, in order; "2" is the second, "2.3" the third move of it.
[[nodiscard]] std::vector<MenuEntry> menu_of(const std::vector<moves::Move>& possible);

/// What somebody typed.
struct Pick {
  std::vector<const moves::Move*> fits;  ///< one: that move; none: nothing fits; several: which?
  const MenuEntry* kind = nullptr;       ///< a kind alone was typed: its moves are to be listed
};
/// A number, a move's name, its short words, or words that are in them. Points into `menu`. A kind
/// of which one move is possible is that move.
[[nodiscard]] Pick pick(const moves::Setting& setting, const std::vector<MenuEntry>& menu,
                        const std::string& typed);

}  // namespace whichlink::drill
