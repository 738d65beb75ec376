#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

namespace whichlink::record {

/// Marks the file as ours ("wlnk"), so that another program's file is never written to.
constexpr int kApplicationId = 0x776c6e6b;

/// Brings a file of this version (0: a new one) to `to`, one transaction a version.
void bring_forward(SQLite::Database& database, int from, int to);

}  // namespace whichlink::record
