#pragma once

#include <optional>
#include <string>

#include "guide/case.h"
#include "render/json.h"

/// What the pocket page shows, in words, with the numbers they stand for beside them: between the
/// engine inside the page and the page's own script (cli/pocket/page.js), and nobody else's.
namespace whichlink::render {

/// Before a case: the cautions that always hold, and every route with what can be reported of it.
[[nodiscard]] Json pocket_start(const moves::Installation& installation);
/// One step of a case under way: the move, its cautions and its answers, the suspects, what is to
/// be put back, and the other moves.
/// @param move  the one that is shown: the advised one, or another candidate
[[nodiscard]] Json pocket_step(const guide::Case& one, const guide::Advice& advice,
                               const plan::Picture& picture, const moves::Move& move);
/// What a case came to, or how it stands where it is put aside.
[[nodiscard]] Json pocket_ending(const guide::Case& one, guide::Stage stage,
                                 const plan::Picture& picture);

}  // namespace whichlink::render
