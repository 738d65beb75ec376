#pragma once

#include "drill/drill.h"
#include "prompt.h"
#include "render/drill_pages.h"

namespace whichlink::cli {

struct DrillSittingOptions {
  bool json = false;
  bool against = false;  ///< after each move, what the planner would have done
};

/// One sitting at a drill: shows what is possible, takes what is typed, tells what the room
/// answers. Leaves the drill under way where the trainee stops.
void drill_on(drill::Drill& drill, const render::DrillTitle& title,
              const DrillSittingOptions& options, Prompt& prompt);

}  // namespace whichlink::cli
