#pragma once

#include "surroundings.h"

namespace whichlink::cli {

/// The whole program: reads the command line, runs the command and says what is wrong, if anything
/// is. One at a time in a process.
/// @param argv  argc words, the program's own name first
/// @return the exit code: 0, or 2 where something is wrong
int run_program(int argc, const char* const* argv, const Surroundings& around);

}  // namespace whichlink::cli
