#pragma once

#include "guide/case.h"

namespace whichlink::guide {

/// What is to be done at the end of a course, and what may be used meanwhile: an ending without its
/// causes, which take longest to find.
[[nodiscard]] Ending chores_of(const Course& course, Stage stage);

}  // namespace whichlink::guide
