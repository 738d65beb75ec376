#include "journal.h"

#include <fmt/chrono.h>

#include <algorithm>
#include <ctime>

#include "base/moment.h"
#include "history/closing.h"
#include "load/load.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

class FileJournal : public Journal {
 public:
  explicit FileJournal(std::string path) : path_(std::move(path)) {}
  void open(const guide::Case& one) override { keep(one); }
  void answered(const guide::Case& one) override { keep(one); }
  void took_back(const guide::Case& one) override { keep(one); }
  void ended(const guide::Case& one, const guide::Ending& /*ending*/) override { keep(one); }
  std::optional<double> days_since_pass(const std::string& /*route*/) override {
    return std::nullopt;
  }
  [[nodiscard]] std::string how_to_go_on() const override {
    return "whichlink isolate --resume '" + path_ + "'";
  }

 private:
  void keep(const guide::Case& one) const { keep_file(path_, load::to_text(one.events())); }

  std::string path_;
};

class RecordJournal : public Journal {
 public:
  RecordJournal(std::shared_ptr<record::Record> record, std::string installation, Clock clock,
                std::optional<record::Number> known, std::string file)
      : record_(std::move(record)),
        installation_(std::move(installation)),
        clock_(std::move(clock)),
        number_(known),
        file_(std::move(file)) {}

  void open(const guide::Case& one) override {
    if (!number_) number_ = must(record_->begin_case(installation_, one.events(), clock_.now()));
  }
  void answered(const guide::Case& one) override {
    const std::vector<guide::Done>& done = one.events().done;
    must(record_->add_answer(*number_, done.size() - 1, done.back(), clock_.now()));
  }
  void took_back(const guide::Case& one) override {
    must(record_->take_back(*number_, one.events().done.size() + 1, clock_.now()));
  }
  void ended(const guide::Case& one, const guide::Ending& ending) override {
    must(record_->end_case(*number_, history::closing_of(one, ending), clock_.now()));
  }
  std::optional<double> days_since_pass(const std::string& route) override {
    const std::optional<std::string> pass = must(record_->last_pass(installation_, route));
    if (!pass) return std::nullopt;
    return std::max(0.0, clock_.days() - moment_from(*pass)->days);
  }
  [[nodiscard]] std::string how_to_go_on() const override {
    const std::string where = file_.empty() ? "" : " --record '" + file_ + "'";
    return "whichlink isolate --resume " + std::to_string(*number_) + where;
  }

 private:
  std::shared_ptr<record::Record> record_;
  std::string installation_;
  Clock clock_;
  std::optional<record::Number> number_;
  std::string file_;
};

}  // namespace

std::unique_ptr<Journal> file_journal(std::string path) {
  return std::make_unique<FileJournal>(std::move(path));
}

std::unique_ptr<Journal> record_journal(std::shared_ptr<record::Record> record,
                                        std::string installation, Clock clock,
                                        std::optional<record::Number> known, std::string file) {
  return std::make_unique<RecordJournal>(std::move(record), std::move(installation),
                                         std::move(clock), known, std::move(file));
}

std::string Clock::now() const {
  if (!fixed_.empty()) return fixed_;
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  if (::localtime_r(&now, &local) == nullptr) return "1970-01-01T00:00:00";
  return fmt::format("{:%Y-%m-%dT%H:%M:%S}", local);
}

double Clock::days() const {
  return moment_from(now())->days;
}

}  // namespace whichlink::cli
