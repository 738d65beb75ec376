#include <SQLiteCpp/SQLiteCpp.h>
#include <sys/resource.h>

#include <csignal>
#include <thread>

#include "record/schema.h"
#include "support.h"

namespace whichlink::record {
namespace {

TEST_F(RecordTest, FileIsInWriteAheadModeAndSound) {
  {
    Record record = open();
    must(record.begin_case("Clinic", events(), kMorning));
  }
  SQLite::Database database(path());
  EXPECT_EQ(database.execAndGet("PRAGMA journal_mode").getString(), "wal");
  EXPECT_EQ(database.execAndGet("PRAGMA user_version").getInt(), kSchemaVersion);
  EXPECT_EQ(database.execAndGet("PRAGMA integrity_check").getString(), "ok");
  SQLite::Statement broken(database, "PRAGMA foreign_key_check");
  EXPECT_FALSE(broken.executeStep());
}

TEST_F(RecordTest, OlderFileIsBroughtForwardWithWhatIsInIt) {
  {
    SQLite::Database old(path(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    bring_forward(old, 0, 1);
    old.exec("INSERT INTO installation (name, watched_from) VALUES ('Clinic', '2025-01-01')");
    old.exec(
        "INSERT INTO isolation (installation, model, route, complaint, listener, aim, opened) "
        "VALUES (1, 'm', 'bone', 'silent', '', '', '2025-01-01T08:00:00')");
  }
  EXPECT_NE(line_of(Record::open(path(), Access::read)).find("older form"), std::string::npos);
  Record record = open();
  EXPECT_EQ(must(record.events_of(1)).route, "bone");
  CheckHead head;
  head.installation = "Clinic";
  EXPECT_EQ(must(record.begin_check(head, kMorning)), 1);
}

TEST_F(RecordTest, NewerFileIsRefusedAndLeftAsItWas) {
  {
    SQLite::Database database(path(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    bring_forward(database, 0, kSchemaVersion);
    database.exec("PRAGMA user_version = 99");
  }
  const std::string before = bytes_of(path());
  for (const Access access : {Access::read, Access::write}) {
    const std::string line = line_of(Record::open(path(), access));
    EXPECT_NE(line.find("newer whichlink (form 99); expected form " +
                        std::to_string(kSchemaVersion) + " or older"),
              std::string::npos)
        << line;
  }
  EXPECT_EQ(bytes_of(path()), before);
}

TEST_F(RecordTest, OtherProgramsFileIsRefusedAndLeftAsItWas) {
  {
    SQLite::Database database(path(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    database.exec("CREATE TABLE theirs (id INTEGER)");
  }
  const std::string before = bytes_of(path());
  EXPECT_NE(line_of(Record::open(path(), Access::write)).find("belongs to another program"),
            std::string::npos);
  EXPECT_EQ(bytes_of(path()), before);
}

TEST_F(RecordTest, FileThatIsNoDatabaseIsRefusedAndLeftAsItWas) {
  const std::string text(5000, 'x');
  std::ofstream(path(), std::ios::binary) << text;
  EXPECT_NE(line_of(Record::open(path(), Access::write)).find("is no record"), std::string::npos);
  EXPECT_EQ(bytes_of(path()), text);
}

TEST_F(RecordTest, MissingFileIsAProblemForAReader) {
  EXPECT_NE(line_of(Record::open(path(), Access::read)).find("cannot be opened"),
            std::string::npos);
  EXPECT_FALSE(std::filesystem::exists(path()));
}

// A page of every kind is scribbled over, one after the other: whatever happens is a value or a
// line, and the file is left as it was scribbled.
TEST_F(RecordTest, DamageIsALineNotACrash) {
  {
    Record record = open();
    for (int index = 0; index < 200; ++index) {
      const Number one = must(record.begin_case("Clinic", events(), kMorning));
      must(record.add_answer(one, 0, done("listen", "steady"), kMorning));
    }
  }
  const std::string sound = bytes_of(path());
  constexpr std::size_t kPage = 4096;
  std::size_t told = 0;
  for (std::size_t page = 0; page * kPage < sound.size(); ++page) {
    std::string damaged = sound;
    for (std::size_t at = page * kPage + (page == 0 ? 100 : 0); at < (page + 1) * kPage; ++at) {
      damaged[at] = static_cast<char>(at * 31 + 7);
    }
    const std::string place = path() + std::to_string(page);
    std::ofstream(place, std::ios::binary) << damaged;
    const auto record = Record::open(place, Access::read);
    std::string line = line_of(record);
    if (record) line = line_of(record->cases({}));
    if (record && line.empty()) line = line_of(record->story_of(100));
    if (!line.empty()) {
      EXPECT_EQ(line.find('\n'), std::string::npos);
      EXPECT_NE(line.find("damaged"), std::string::npos) << line;
      ++told;
    }
    EXPECT_EQ(bytes_of(place), damaged);
  }
  EXPECT_GT(told, 5U);
}

TEST_F(RecordTest, WritersWaitForEachOther) {
  static_cast<void>(open());
  constexpr int kEach = 50;
  const auto write = [&] {
    Record record = open();
    for (int index = 0; index < kEach; ++index) must(record.begin_case("C", events(), kMorning));
  };
  std::thread other(write);
  write();
  other.join();
  EXPECT_EQ(must(open().cases({})).size(), 2U * kEach);
}

TEST_F(RecordTest, NewFileIsMadeOnceByManyAtOnce) {
  constexpr int kRounds = 10;
  constexpr int kEach = 4;
  for (int round = 0; round < kRounds; ++round) {
    const std::string place = path() + std::to_string(round);
    std::vector<std::string> lines(kEach);
    std::vector<std::thread> all;
    all.reserve(lines.size());
    for (std::string& line : lines) {
      all.emplace_back([&line, &place] {
        auto record = Record::open(place, Access::write);
        line = record ? line_of(record->begin_case("C", events(), kMorning)) : line_of(record);
      });
    }
    for (std::thread& one : all) one.join();
    for (const std::string& line : lines) EXPECT_EQ(line, "");
    EXPECT_EQ(must(must(Record::open(place, Access::read)).cases({})).size(), std::size_t{kEach});
  }
}

// Files may not grow beyond so many bytes, as on a disk that is full.
TEST_F(RecordTest, FullDiskIsALineAndLosesNothing) {
  Record record = open();
  must(record.begin_case("C", events(), kMorning));
  std::signal(SIGXFSZ, SIG_IGN);
  rlimit before{};
  ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
  rlimit small = before;
  small.rlim_cur = 256 << 10;
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
  std::size_t stored = 1;
  std::string line;
  constexpr std::size_t kMany = 5000;
  while (line.empty() && stored < kMany) {
    line = line_of(record.begin_case("C", events(), kMorning));
    if (line.empty()) ++stored;
  }
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &before), 0);
  EXPECT_LT(stored, kMany);
  EXPECT_NE(line.find("full"), std::string::npos) << line;
  EXPECT_EQ(must(record.cases({})).size(), stored);
  // With room again it goes on.
  must(record.begin_case("C", events(), kMorning));
  EXPECT_EQ(must(open().cases({})).size(), stored + 1);
}

}  // namespace
}  // namespace whichlink::record
