#include "record/record.h"

#include <sqlite3.h>

#include <chrono>
#include <thread>

#include "record/file.h"
#include "record/schema.h"

namespace whichlink::record {
namespace {

// How long another program's transaction is waited for. Ours take some milliseconds; a slow disk or
// a backup may take seconds.
constexpr int kPatienceMs = 10'000;

int flags_of(Access access) {
  return access == Access::read ? SQLite::OPEN_READONLY
                                : SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE;
}

// Changing the mode of a new file needs it for oneself alone, and the library does not wait for
// that: so we do, as long as for a transaction.
void use_write_ahead_log(SQLite::Database& database) {
  constexpr std::chrono::milliseconds kPause(20);
  for (int tries = kPatienceMs / static_cast<int>(kPause.count());; --tries) {
    try {
      database.exec("PRAGMA journal_mode = WAL");
      return;
    } catch (const SQLite::Exception& error) {
      if (error.getErrorCode() != SQLITE_BUSY || tries == 0) throw;
      std::this_thread::sleep_for(kPause);
    }
  }
}

}  // namespace

Problem Record::File::problem_of(const std::string& path, const SQLite::Exception& error) {
  const Place place{path, 0, 0};
  switch (error.getErrorCode()) {
    case SQLITE_FULL:
      return {place, "cannot be written: the disk is full", "room on the disk", ""};
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return {place, "cannot be written: it is read-only", "a file that can be written", ""};
    case SQLITE_CANTOPEN:
      return {place, "cannot be opened", "a file in a folder that can be read and written", ""};
    case SQLITE_NOTADB:
      return {place, "is no record", "a file that whichlink made, or a new one", ""};
    case SQLITE_CORRUPT:
      return {place, "is damaged", "a sound record; a copy from a backup", ""};
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return {place, "is in use by another program", "that it is let go within 10 seconds", ""};
    case SQLITE_IOERR:
      return {place, "cannot be read or written: the disk is full or failing",
              "room on the disk, and a disk that works", ""};
    default:
      return {place, std::string("cannot be used: ") + error.getErrorStr(), "a sound record", ""};
  }
}

Record::File::File(std::string path, Access access)
    : path_(std::move(path)), database_(path_, flags_of(access), kPatienceMs) {
  // Nothing is written before it is certain whose file it is. In one transaction, for somebody else
  // may be making it just now.
  SQLite::Transaction looking(database_);
  const int version = database_.execAndGet("PRAGMA user_version").getInt();
  const int application = database_.execAndGet("PRAGMA application_id").getInt();
  const bool is_new = version == 0 && application == 0 &&
                      database_.execAndGet("SELECT count(*) FROM sqlite_master").getInt() == 0;
  looking.commit();
  if (!is_new && application != kApplicationId) {
    throw Refused{problem("belongs to another program", "a record, or a new file")};
  }
  if (version > kSchemaVersion) {
    throw Refused{problem("was made by a newer whichlink (form " + std::to_string(version) + ")",
                          "form " + std::to_string(kSchemaVersion) + " or older")};
  }
  database_.exec("PRAGMA foreign_keys = ON");
  if (access == Access::read) {
    if (version < kSchemaVersion) {
      throw Refused{
          problem("is of an older form, or empty", "a record that was opened for writing once")};
    }
    return;
  }
  if (sqlite3_db_readonly(database_.getHandle(), "main") != 0) {
    throw Refused{problem("cannot be written: it is read-only", "a file that can be written")};
  }
  use_write_ahead_log(database_);
  database_.exec("PRAGMA synchronous = FULL");  // a commit is on the disk, not on its way
  bring_forward(database_, version, kSchemaVersion);
}

std::optional<Number> Record::File::installation(const std::string& name) {
  Statement known = ask("SELECT id FROM installation WHERE name = ?");
  known.bind(1, name);
  if (!known.executeStep()) return std::nullopt;
  return known.getColumn(0).getInt64();
}

Number Record::File::known_installation(const std::string& name, const std::string& at) {
  Statement add =
      ask("INSERT INTO installation (name, watched_from) VALUES (?, ?) ON CONFLICT (name) DO "
          "UPDATE SET watched_from = excluded.watched_from "
          "WHERE excluded.watched_from < watched_from");
  add.bind(1, name);
  add.bind(2, at);
  add.exec();
  return *installation(name);
}

Record::Record(std::unique_ptr<File> file) : file_(std::move(file)) {}
Record::Record(Record&&) noexcept = default;
Record& Record::operator=(Record&&) noexcept = default;
Record::~Record() = default;

Result<Record> Record::open(const std::string& path, Access access) {
  try {
    return Record(std::make_unique<File>(path, access));
  } catch (const SQLite::Exception& error) {
    // A reader, too, needs a file beside the record in which programs tell each other what they do.
    if (access == Access::read && error.getErrorCode() == SQLITE_READONLY) {
      return tl::unexpected(Problems{{{path, 0, 0},
                                      "cannot be read in a folder that cannot be written",
                                      "a copy of it in a folder of your own",
                                      ""}});
    }
    return tl::unexpected(Problems{File::problem_of(path, error)});
  } catch (const Refused& refused) {
    return tl::unexpected(Problems{refused.problem});
  }
}

Result<std::optional<std::string>> Record::watched_from(const std::string& installation) const {
  return file_->read<std::optional<std::string>>([&]() -> Result<std::optional<std::string>> {
    Statement ask = file_->ask("SELECT watched_from FROM installation WHERE name = ?");
    ask.bind(1, installation);
    if (!ask.executeStep()) return std::optional<std::string>();
    return std::optional(ask.getColumn(0).getString());
  });
}

Result<std::vector<ModeCount>> Record::mode_counts(const std::string& installation) const {
  return file_->read<std::vector<ModeCount>>([&]() -> Result<std::vector<ModeCount>> {
    Statement ask = file_->ask(
        "SELECT mode, faults, cases FROM mode_count JOIN installation "
        "ON installation.id = mode_count.installation WHERE name = ? ORDER BY mode");
    ask.bind(1, installation);
    std::vector<ModeCount> counts;
    while (ask.executeStep()) {
      counts.push_back({ask.getColumn(0).getString(), ask.getColumn(1).getDouble(),
                        static_cast<std::size_t>(ask.getColumn(2).getInt64())});
    }
    return counts;
  });
}

}  // namespace whichlink::record
