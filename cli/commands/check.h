#pragma once

#include <functional>

#include "guide/case_file.h"
#include "guide/course.h"

namespace whichlink::cli {

/// Takes up a case on a route that a check found bad, with all that the check heard in it, and
/// comes back with how it ended; `under_way` where it was put aside.
using Isolate = std::function<guide::Stage(guide::CaseFile)>;

}  // namespace whichlink::cli
