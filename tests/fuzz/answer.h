#pragma once

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "base/problem.h"

namespace whichlink::fuzz {

/// Dies, so that a fuzzer keeps the input, where `holds` is false.
inline void must(bool holds, const char* what) {
  if (holds) return;
  std::fprintf(stderr, "broken: %s\n", what);
  std::abort();
}

/// A loader's answer is a value, or complaints in order, each with its place and on one line.
template <class Value>
void check(const Result<Value>& answer) {
  if (answer) return;
  must(!answer.error().empty(), "neither a value nor a complaint");
  must(std::is_sorted(answer.error().begin(), answer.error().end()), "complaints out of order");
  for (const Problem& problem : answer.error()) {
    must(problem.place.line > 0 && problem.place.column > 0, "a complaint without a place");
    must(!problem.what.empty(), "a complaint without words");
    must(to_line(problem).find('\n') == std::string::npos, "a complaint of two lines");
  }
}

}  // namespace whichlink::fuzz
