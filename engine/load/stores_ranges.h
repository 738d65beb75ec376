#pragma once

#include "load/reader.h"

/// What the terms of a store may be, in rules and in a file of stores alike.
namespace whichlink::load {

inline constexpr Range kLeadDays{0, 3'660, "days above 0, at most 3660", true};
inline constexpr Range kWaitDays{0, 3'660, "days, from 0 to 3660"};
inline constexpr Range kService{.5, .9999, "a chance from .5 to .9999"};

}  // namespace whichlink::load
