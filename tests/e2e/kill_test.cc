// The program is killed at random moments while cases and checks go on record, with room on the
// disk and without: what was answered, and asked on after, must be in the record, and everything
// must be resumable.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <thread>

#include "base/random.h"
#include "child.h"
#include "record/record.h"

namespace whichlink::testing {
namespace {

namespace fs = std::filesystem;

// Every question ends with a line of keys that has this.
const std::string kQuestion = "b take back";
constexpr std::size_t kMostAnswers = 6;  // of one run, before it is killed
constexpr double kLongestWaitMs = 40;    // about what one step takes
// Disks that fill up; a few are too small for a record at all.
constexpr std::size_t kFullDisks = WHICHLINK_KILLS >= 100 ? 25 : 6;

class Kills : public ::testing::Test {
 protected:
  Kills() : folder_(fs::temp_directory_path() / ("kills_" + std::to_string(::getpid()))) {
    fs::remove_all(folder_);
    fs::create_directories(folder_);
  }
  ~Kills() override {
    std::error_code none;
    fs::remove_all(folder_, none);
  }
  Kills(const Kills&) = delete;
  Kills& operator=(const Kills&) = delete;

  [[nodiscard]] std::string path() const { return (folder_ / "record.db").string(); }

  template <class Value>
  static Value must(Result<Value> result) {
    if (!result) throw std::runtime_error(to_line(result.error().front()));
    return std::move(*result);
  }
  [[nodiscard]] record::Record reader() const {
    return must(record::Record::open(path(), record::Access::read));
  }
  [[nodiscard]] bool is_sound() const {
    SQLite::Database database(path());
    return database.execAndGet("PRAGMA integrity_check").getString() == "ok";
  }

  Random random_{20'261'126};

 private:
  fs::path folder_;
};

/// The key of the first possible answer of the latest question, that all is well: the first line
/// that is "  KEY  words".
std::string first_key(const std::string& page) {
  for (std::size_t at = 0; (at = page.find("\n  ", at)) != std::string::npos; ++at) {
    if (at + 6 < page.size() && page[at + 3] != ' ' && page.compare(at + 4, 2, "  ") == 0) {
      return page.substr(at + 3, 1);
    }
  }
  return "?";
}

struct Ending {
  std::vector<std::string> answered;  ///< keys, each known to be on record by the next question
  bool is_killed = false;
};

// Answers as it is asked, up to a random number, and kills in the midst of the next one.
Ending answer_and_kill(Child& child, Random& random) {
  Ending ending;
  const auto most = static_cast<std::size_t>(random.uniform() * kMostAnswers);
  if (!child.read_until(kQuestion)) return ending;
  while (true) {
    const std::string key = first_key(child.latest());
    child.write_line(key);
    if (ending.answered.size() == most) break;
    if (!child.read_until(kQuestion)) return ending;
    ending.answered.push_back(key);
  }
  std::this_thread::sleep_for(
      std::chrono::duration<double, std::milli>(random.uniform() * kLongestWaitMs));
  child.kill();
  ending.is_killed = child.wait() == -1;
  return ending;
}

TEST_F(Kills, LoseNoAnswerOfACase) {
  std::size_t killed = 0;
  std::size_t on_record = 0;  // of the case that is open
  bool is_open = false;
  for (std::size_t round = 0; round < WHICHLINK_KILLS; ++round) {
    std::vector<std::string> arguments = {"isolate", "--record", path()};
    if (is_open) {
      arguments.emplace_back("--resume");
    } else {
      on_record = 0;
      arguments.insert(arguments.end(), {"--model", "single-room", "--route", "left phone",
                                         "--heard", "crackle", "--think", "0"});
    }
    Child child(arguments, 0);
    const Ending ending = answer_and_kill(child, random_);
    killed += ending.is_killed ? 1 : 0;
    if (!fs::exists(path())) continue;  // killed before anything was written or asked
    ASSERT_TRUE(is_sound()) << round;
    const auto opened = record::Record::open(path(), record::Access::read);
    if (!opened) {  // killed while the file was made: then nothing was asked
      ASSERT_TRUE(ending.answered.empty()) << to_line(opened.error().front());
      continue;
    }
    const record::Record record = reader();
    const std::vector<record::CaseHead> heads = must(record.cases({}));
    if (heads.empty()) {
      ASSERT_TRUE(ending.answered.empty()) << round;
      continue;
    }
    const std::size_t now = heads.front().answers;
    const std::size_t sure = on_record + ending.answered.size();
    ASSERT_GE(now, sure) << "an answer is lost in round " << round << "\n" << child.output();
    ASSERT_LE(now, sure + 2) << round;  // the one in flight, and one that ended the case
    on_record = now;
    is_open = heads.front().ending == record::kOpen;
  }
  EXPECT_GT(killed, WHICHLINK_KILLS / 2) << "most runs must be killed on the way";
  // After all that, the open case goes on to its end.
  if (!is_open) return;
  Child last({"isolate", "--record", path(), "--resume", "--think", "0"}, 0);
  while (last.read_until(kQuestion)) last.write_line(first_key(last.latest()));
  EXPECT_EQ(last.wait(), 0) << last.output();
  EXPECT_EQ(must(reader().last_open_case()), std::nullopt);
}

TEST_F(Kills, LoseNoAnswerOfACheck) {
  std::size_t killed = 0;
  for (std::size_t round = 0; round < WHICHLINK_KILLS; ++round) {
    std::optional<record::Number> open;
    std::size_t before = 0;
    if (fs::exists(path())) {
      const auto record = record::Record::open(path(), record::Access::read);
      if (record) {
        open = must(record->last_open_check("One-room clinic, Harrow Lane practice"));
        if (open) before = must(record->check_story_of(*open)).answers.size();
      }
    }
    std::vector<std::string> arguments = {"check", "--record", path(), "--model", "single-room"};
    if (open) arguments.emplace_back("--resume");
    Child child(arguments, 0);
    const Ending ending = answer_and_kill(child, random_);
    killed += ending.is_killed ? 1 : 0;
    if (!fs::exists(path())) continue;
    ASSERT_TRUE(is_sound()) << round;
    if (ending.answered.empty()) continue;
    const record::Record record = reader();
    const std::vector<record::CheckHead> heads = must(record.checks({}));
    ASSERT_FALSE(heads.empty());
    const std::size_t now = must(record.check_story_of(heads.front().number)).answers.size();
    ASSERT_GE(now, before + ending.answered.size()) << "lost in round " << round << "\n"
                                                    << child.output();
    ASSERT_LE(now, before + ending.answered.size() + 2);
  }
  EXPECT_GT(killed, WHICHLINK_KILLS / 2);
}

// No room beyond what the record has, and a little: the answer that finds no room gets a line, all
// before it are there, and with room again the case goes on.
TEST_F(Kills, OnAFullDiskLoseNoAnswerEither) {
  const std::vector<std::string> begin = {"isolate",     "--record", path(),       "--model",
                                          "single-room", "--route",  "left phone", "--heard",
                                          "crackle",     "--think",  "0"};
  Child roomy(begin, 0);
  ASSERT_TRUE(roomy.read_until(kQuestion)) << roomy.output();
  roomy.kill();
  roomy.wait();
  const auto begun =
      static_cast<double>(std::max(fs::file_size(path()), fs::file_size(path() + "-wal")));
  std::size_t full = 0;
  std::size_t made = 0;
  for (std::size_t round = 0; round < kFullDisks; ++round) {
    fs::remove(path());
    fs::remove(path() + "-wal");
    fs::remove(path() + "-shm");
    Child child(begin, static_cast<std::size_t>(begun * (.7 + random_.uniform())));
    std::size_t answered = 0;
    bool asked = child.read_until(kQuestion);
    while (asked) {
      // Taken back and given again, it fills the disk without ending the case.
      child.write_line(answered % 2 == 0 ? first_key(child.latest()) : "b");
      asked = child.read_until(kQuestion);
      if (asked) ++answered;
      if (answered > 200) break;
    }
    if (!asked) {
      ASSERT_EQ(child.wait(), 2) << child.output();
      const std::string& output = child.output();
      const std::string line = output.substr(output.rfind(path()));
      ASSERT_NE(line.find("full"), std::string::npos) << line;
      ++full;
    }
    child.kill();
    child.wait();
    const auto record = record::Record::open(path(), record::Access::write);
    ASSERT_TRUE(record) << to_line(record.error().front());
    ASSERT_TRUE(is_sound());
    if (answered == 0) continue;
    ++made;
    const record::CaseStory story = must(record->story_of(1));
    // Each second answer took one back.
    ASSERT_GE(story.answers.size(), (answered + 1) / 2);
    Child again({"isolate", "--record", path(), "--resume", "--think", "0"}, 0);
    ASSERT_TRUE(again.read_until(kQuestion)) << again.output();
  }
  EXPECT_GT(full, kFullDisks / 2);
  EXPECT_GT(made, kFullDisks / 3);
}

}  // namespace
}  // namespace whichlink::testing
