#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/problem.h"

namespace whichlink::load {

/// A place in the file that is being read; both count from 1, columns count characters.
struct Here {
  int line = 1;
  int column = 1;
};

/// Everything that is wrong with one file, gathered while the reading goes on.
class Complaints {
 public:
  /// More than these are not gathered: a wholly foreign file would only repeat itself.
  static constexpr std::size_t kMost = 200;

  explicit Complaints(std::string file) : file_(std::move(file)) {}
  void add(Here at, std::string what, std::string expected = "", std::string hint = "");
  void add(Problems problems);
  [[nodiscard]] bool empty() const { return problems_.empty(); }
  /// Counts a complaint that is sure to be made later.
  void foresee() { ++count_; }
  /// Grows with each complaint: equal before and after something means that it was all right.
  [[nodiscard]] std::size_t count() const { return count_; }
  [[nodiscard]] bool full() const { return problems_.size() >= kMost; }
  [[nodiscard]] Place place(Here at) const { return {file_, at.line, at.column}; }
  /// Sorted by place, each once.
  [[nodiscard]] Problems sorted() const;

 private:
  std::string file_;
  Problems problems_;
  std::size_t count_ = 0;
};

/// A name or text as shown in a complaint: in double quotes, cut after 60 characters.
[[nodiscard]] std::string in_quotes(const std::string& text);

}  // namespace whichlink::load
