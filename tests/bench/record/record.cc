// A record of a hundred thousand cases with ten answers each: what one more answer takes, beside a
// case file that is written anew and synced; and what reading takes, beside adding everything up.

#include "record/record.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <fcntl.h>
#include <fmt/core.h>
#include <unistd.h>

#include <filesystem>

#include "base/moment.h"
#include "base/random.h"
#include "bench/measure.h"
#include "load/load.h"

namespace {

using namespace whichlink;
namespace fs = std::filesystem;

constexpr int kCases = 100'000;
constexpr int kAnswers = 10;
constexpr int kKinds = 40;
const std::string kRoom = "Invented room";

template <class Value>
Value must(Result<Value> result) {
  if (!result) bench::stop(to_line(result.error().front()));
  return std::move(*result);
}

guide::CaseFile complaint() {
  guide::CaseFile events;
  events.model = "invented";
  events.route = "left phone";
  events.complaint.heard = "crackle";
  return events;
}

// Through SQL, for a sync after each of a million answers would take a quarter of an hour.
void fill(const std::string& path) {
  {
    record::Record made = must(record::Record::open(path, record::Access::write));
    must(made.begin_case(kRoom, complaint(), "2016-01-01T08:00:00"));
  }
  SQLite::Database database(path, SQLite::OPEN_READWRITE);
  SQLite::Transaction all(database);
  SQLite::Statement one(database,
                        "INSERT INTO isolation (installation, model, route, complaint, listener, "
                        "aim, opened, ended, ending, minutes) "
                        "VALUES (1, 'invented', ?, 'crackle', '', '', ?, ?, ?, 5)");
  SQLite::Statement answer(database,
                           "INSERT INTO answer (isolation, move, heard, at) VALUES (?, 'flex the "
                           "cord', 'steady', ?)");
  SQLite::Statement cause(database, "INSERT INTO cause VALUES (?, ?, 'here', 'a bad cord', ?)");
  Random random(5);
  const double start = moment_from("2016-01-01")->days;
  for (int number = 2; number <= kCases; ++number) {
    const std::string at = day_text(start + number * .035) + "T09:00:00";
    one.reset();
    one.bind(1, "route " + std::to_string(random.below(10)));
    one.bind(2, at);
    one.bind(3, at);
    one.bind(4, random.chance(.2) ? "handed over" : "mended");
    one.exec();
    for (int each = 0; each < kAnswers; ++each) {
      answer.reset();
      answer.bind(1, number);
      answer.bind(2, at);
      answer.exec();
    }
    for (int each = 0; each < 4; ++each) {
      cause.reset();
      cause.bind(1, number);
      cause.bind(2, "kind " + std::to_string(random.below(kKinds)));
      cause.bind(3, random.uniform());
      cause.exec();
    }
  }
  database.exec(
      "INSERT INTO mode_count SELECT installation, mode, sum(chance), count(DISTINCT isolation) "
      "FROM cause JOIN isolation ON isolation.id = cause.isolation GROUP BY installation, mode");
  all.commit();
}

// The plain way to lose nothing: the whole file anew, synced, put in the old one's place.
void write_anew(const std::string& path, const guide::CaseFile& events) {
  const std::string text = load::to_text(events);
  const std::string beside = path + ".new";
  const int file = ::open(beside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
  if (file < 0 || ::write(file, text.data(), text.size()) < 0 || ::fsync(file) != 0) {
    bench::stop("cannot write " + beside);
  }
  ::close(file);
  fs::rename(beside, path);
}

void row(const std::string& what, double ours, const std::string& other, double theirs) {
  fmt::print("{:<44}{:>12}   {:<34}{:>12}{:>9.1f}\n", what, bench::time_text(ours), other,
             bench::time_text(theirs), theirs / ours);
}

double summed(const std::vector<record::ModeCount>& counts) {
  double sum = 0;
  for (const record::ModeCount& count : counts) sum += count.faults;
  return sum;
}

}  // namespace

int main() {
  const fs::path folder =
      fs::temp_directory_path() / ("bench_record_" + std::to_string(::getpid()));
  fs::create_directories(folder);
  const std::string path = (folder / "record.db").string();
  fill(path);
  fmt::print("{} cases, {} answers, {:.0f} MB\n\n", kCases, kCases * kAnswers,
             static_cast<double>(fs::file_size(path)) / 1e6);
  {
    record::Record record = must(record::Record::open(path, record::Access::write));
    const record::Number number =
        must(record.begin_case(kRoom, complaint(), "2026-11-26T08:00:00"));
    std::size_t answers = 0;
    const guide::Done done{"twist the plug", {"steady", std::nullopt}, {}};
    const double ours = bench::seconds_of(
        [&] { must(record.add_answer(number, answers++, done, "2026-11-26T08:00:00")); });
    guide::CaseFile events = complaint();
    events.done.assign(kAnswers, done);
    const double theirs =
        bench::seconds_of([&] { write_anew((folder / "case.yaml").string(), events); });
    row("one answer on record", ours, "a case file of ten written anew", theirs);
  }
  const record::Record record = must(record::Record::open(path, record::Access::read));
  SQLite::Database database(path);
  const auto add_up = [&] {
    SQLite::Statement ask(database,
                          "SELECT mode, sum(chance) FROM cause JOIN isolation ON isolation.id = "
                          "cause.isolation WHERE installation = 1 GROUP BY mode");
    double sum = 0;
    while (ask.executeStep()) sum += ask.getColumn(1).getDouble();
    return sum;
  };
  bench::must_agree("faults by kind", std::abs(add_up() - summed(must(record.mode_counts(kRoom)))),
                    1e-6 * add_up());
  row("faults by kind, kept up", bench::seconds_of([&] { must(record.mode_counts(kRoom)); }),
      "all causes added up", bench::seconds_of([&] { add_up(); }, 3));
  const record::Filter narrow{kRoom, "route 3", "handed over", "2024-01-01", "2024-12-31", "", 0};
  const auto walk = [&] {
    std::size_t count = 0;
    for (const record::CaseHead& head : must(record.cases({}))) {
      if (head.route == narrow.route && head.ending == narrow.ending &&
          head.opened >= narrow.from && day_of(head.opened) <= narrow.until) {
        ++count;
      }
    }
    return count;
  };
  if (walk() != must(record.cases(narrow)).size()) bench::stop("the filters differ");
  row("cases of a route, a year and an ending",
      bench::seconds_of([&] { must(record.cases(narrow)); }, 5), "all cases read and sorted out",
      bench::seconds_of([&] { walk(); }, 3));
  std::error_code none;
  fs::remove_all(folder, none);
  return 0;
}
