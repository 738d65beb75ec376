#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <stdexcept>
#include <string>

#include "record/record.h"

namespace whichlink::record {

/// A folder of its own for each test, gone with it.
class RecordTest : public ::testing::Test {
 protected:
  RecordTest() {
    const auto* info = ::testing::UnitTest::GetInstance()->current_test_info();
    folder_ = std::filesystem::temp_directory_path() /
              ("record_" + std::string(info->name()) + "_" + std::to_string(::getpid()));
    std::filesystem::remove_all(folder_);
    std::filesystem::create_directories(folder_);
  }
  ~RecordTest() override {
    std::error_code none;
    std::filesystem::remove_all(folder_, none);
  }
  RecordTest(const RecordTest&) = delete;
  RecordTest& operator=(const RecordTest&) = delete;

  [[nodiscard]] std::string path() const { return (folder_ / "r.db").string(); }
  [[nodiscard]] Record open() const { return must(Record::open(path(), Access::write)); }

  template <class Value>
  static Value must(Result<Value> result) {
    if (!result) throw std::runtime_error(to_line(result.error().front()));
    return std::move(*result);
  }
  /// The line of a problem; empty where there is none.
  template <class Value>
  static std::string line_of(const Result<Value>& result) {
    return result ? "" : to_line(result.error().front());
  }
  static std::string bytes_of(const std::string& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
  }

  static guide::CaseFile events() {
    guide::CaseFile events;
    events.model = "two-room-booth";
    events.route = "left phone";
    events.complaint = {"weak", 25.0};
    events.days_since_pass = 3.5;
    events.aim = plan::Aim::split;
    events.listener = "new";
    return events;
  }
  static guide::Done done(const std::string& move, const std::string& heard) {
    return {move, {heard, std::nullopt}, {}};
  }

 private:
  std::filesystem::path folder_;
};

inline const std::string kMorning = "2026-11-26T08:30:00";
inline const std::string kNoon = "2026-11-26T12:00:00";

}  // namespace whichlink::record
