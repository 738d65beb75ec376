#pragma once

#include <sys/types.h>

#include <string>
#include <vector>

namespace whichlink::testing {

/// The program as a child, its input and output in our hands, so that it can be killed at any
/// moment.
class Child {
 public:
  /// @param largest_file_bytes  files may not grow beyond it, as on a full disk; 0: no limit
  Child(const std::vector<std::string>& arguments, std::size_t largest_file_bytes);
  ~Child();
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  void write_line(const std::string& text) const;
  /// Reads until `text` has been seen once more, or the output ends. @return whether it was seen
  bool read_until(const std::string& text);
  void kill();
  /// Waits for the end. @return the exit code; -1 where it was killed
  int wait();
  [[nodiscard]] const std::string& output() const { return output_; }
  /// What came since the last read_until before this one began.
  [[nodiscard]] std::string latest() const { return output_.substr(before_); }

 private:
  pid_t process_ = -1;
  int in_ = -1, out_ = -1;
  std::string output_;
  std::size_t before_ = 0;    ///< where the latest part begins
  std::size_t searched_ = 0;  ///< what was already looked through
};

}  // namespace whichlink::testing
