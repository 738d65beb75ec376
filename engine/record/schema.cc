#include "record/schema.h"

#include <array>
#include <string>

namespace whichlink::record {
namespace {

// One step a version; a step that has been in use is never changed, only followed by another.
constexpr std::array kSteps = {
    // 1: cases
    R"sql(
CREATE TABLE installation (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  watched_from TEXT NOT NULL
);
CREATE TABLE isolation (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  installation INTEGER NOT NULL REFERENCES installation (id),
  model TEXT NOT NULL,
  route TEXT NOT NULL,
  complaint TEXT NOT NULL,
  complaint_drop_db REAL,
  listener TEXT NOT NULL,
  aim TEXT NOT NULL,
  days_since_pass REAL,
  opened TEXT NOT NULL,
  ended TEXT,
  ending TEXT NOT NULL DEFAULT 'open',
  minutes REAL NOT NULL DEFAULT 0,
  likeliest_cause TEXT NOT NULL DEFAULT ''
);
CREATE INDEX isolation_by_day ON isolation (installation, opened);
CREATE INDEX isolation_by_route ON isolation (installation, route, ended);
CREATE INDEX isolation_open ON isolation (ending, id) WHERE ending = 'open';
CREATE TABLE answer (
  id INTEGER PRIMARY KEY,
  isolation INTEGER NOT NULL REFERENCES isolation (id),
  move TEXT NOT NULL,
  heard TEXT NOT NULL,
  drop_db REAL,
  at TEXT NOT NULL,
  taken_back TEXT
);
CREATE INDEX answer_of ON answer (isolation, id);
CREATE TABLE cause (
  isolation INTEGER NOT NULL REFERENCES isolation (id),
  mode TEXT NOT NULL,
  fault TEXT NOT NULL,
  words TEXT NOT NULL,
  chance REAL NOT NULL CHECK (chance BETWEEN 0 AND 1)
);
CREATE INDEX cause_of ON cause (isolation);
CREATE TABLE repair (
  isolation INTEGER NOT NULL REFERENCES isolation (id),
  words TEXT NOT NULL
);
CREATE INDEX repair_of ON repair (isolation);
CREATE TABLE part_used (
  isolation INTEGER NOT NULL REFERENCES isolation (id),
  kind TEXT NOT NULL,
  name TEXT NOT NULL,
  instead_of TEXT NOT NULL
);
CREATE INDEX part_used_of ON part_used (isolation);
CREATE TABLE mode_count (
  installation INTEGER NOT NULL REFERENCES installation (id),
  mode TEXT NOT NULL,
  faults REAL NOT NULL,
  cases INTEGER NOT NULL,
  PRIMARY KEY (installation, mode)
) WITHOUT ROWID;
)sql",
    // 2: checks and sessions
    R"sql(
CREATE TABLE round (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  installation INTEGER NOT NULL REFERENCES installation (id),
  list TEXT NOT NULL,
  listener TEXT NOT NULL,
  model TEXT NOT NULL,
  trip_db REAL,
  opened TEXT NOT NULL,
  ended TEXT
);
CREATE INDEX round_by_day ON round (installation, opened);
CREATE TABLE round_answer (
  id INTEGER PRIMARY KEY,
  round INTEGER NOT NULL REFERENCES round (id),
  kind TEXT NOT NULL,
  step TEXT NOT NULL,
  answer TEXT NOT NULL,
  extra TEXT NOT NULL,
  first REAL,
  second REAL,
  at TEXT NOT NULL,
  taken_back INTEGER NOT NULL DEFAULT 0
);
CREATE INDEX round_answer_of ON round_answer (round, id);
CREATE TABLE round_route (
  round INTEGER NOT NULL REFERENCES round (id),
  route TEXT NOT NULL,
  result TEXT NOT NULL,
  heard TEXT NOT NULL,
  stressed INTEGER NOT NULL,
  PRIMARY KEY (round, route)
) WITHOUT ROWID;
CREATE INDEX round_route_by_route ON round_route (route, round);
CREATE TABLE session (
  id INTEGER PRIMARY KEY,
  installation INTEGER NOT NULL REFERENCES installation (id),
  code TEXT NOT NULL,
  day TEXT NOT NULL,
  UNIQUE (installation, code)
);
CREATE INDEX session_by_day ON session (installation, day);
CREATE TABLE session_route (
  session INTEGER NOT NULL REFERENCES session (id),
  route TEXT NOT NULL,
  PRIMARY KEY (session, route)
) WITHOUT ROWID;
)sql",
    // 3: parts that were thrown out
    R"sql(
CREATE TABLE part_thrown_out (
  isolation INTEGER NOT NULL REFERENCES isolation (id),
  kind TEXT NOT NULL,
  name TEXT NOT NULL
);
CREATE INDEX part_thrown_out_of ON part_thrown_out (isolation);
)sql",
    // 4: drills
    R"sql(
CREATE TABLE drill (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  trainee TEXT NOT NULL,
  lesson TEXT NOT NULL,
  drill_case TEXT NOT NULL,
  seed INTEGER NOT NULL,
  at TEXT NOT NULL,
  ideal REAL NOT NULL,
  lost REAL NOT NULL,
  minutes REAL NOT NULL,
  moves INTEGER NOT NULL,
  told_nothing INTEGER NOT NULL,
  named_by_hint INTEGER NOT NULL,
  not_put_back INTEGER NOT NULL,
  unchecked INTEGER NOT NULL,
  blamed INTEGER NOT NULL,
  borrowed_left_in INTEGER NOT NULL,
  service INTEGER NOT NULL,
  left_in INTEGER NOT NULL
);
CREATE INDEX drill_by_trainee ON drill (trainee, id);
CREATE TABLE drill_loss (
  drill INTEGER NOT NULL REFERENCES drill (id),
  habit TEXT NOT NULL,
  minutes REAL NOT NULL,
  PRIMARY KEY (drill, habit)
) WITHOUT ROWID;
CREATE TABLE drill_claim (
  id INTEGER PRIMARY KEY,
  drill INTEGER NOT NULL REFERENCES drill (id),
  suspect TEXT NOT NULL,
  sure REAL NOT NULL CHECK (sure BETWEEN 0 AND 1),
  believed REAL NOT NULL CHECK (believed BETWEEN 0 AND 1),
  is_true INTEGER NOT NULL,
  supported INTEGER NOT NULL
);
CREATE INDEX drill_claim_of ON drill_claim (drill, id);
)sql"};

}  // namespace

void bring_forward(SQLite::Database& database, int from, int to) {
  for (int version = from; version < to; ++version) {
    SQLite::Transaction change(database, SQLite::TransactionBehavior::IMMEDIATE);
    // Somebody else may have been faster.
    if (database.execAndGet("PRAGMA user_version").getInt() > version) continue;
    database.exec(kSteps.at(static_cast<std::size_t>(version)));
    database.exec("PRAGMA application_id = " + std::to_string(kApplicationId));
    database.exec("PRAGMA user_version = " + std::to_string(version + 1));
    change.commit();
  }
}

}  // namespace whichlink::record
