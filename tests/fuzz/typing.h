#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace whichlink::fuzz {

/// A fuzzer's bytes as what somebody types: most bytes are a key or a word that some prompt offers,
/// so that a change of one byte is a change of one answer; some begin a line of any bytes.
class Typing {
 public:
  /// @param at_terminal  keys that answer at once are not followed by Enter
  /// @param most  so many answers, and no more
  Typing(std::string_view bytes, bool at_terminal, std::size_t most)
      : bytes_(bytes), at_terminal_(at_terminal), left_(most) {}

  /// All of it.
  std::string text() {
    std::string text;
    for (; !bytes_.empty() && left_ > 0; --left_) text += next();
    return text;
  }

 private:
  // What is typed and is no single letter or digit.
  static constexpr auto kWords = std::to_array<std::string_view>(
      {// anywhere
       "", "?", "help", "why", "take back", "back", "stop", "# 4", "M\xc3\xbchle", "\x1b[A",
       "x\x7f\x7f\bu",
       // reports
       "not sure", "cannot do", "25 dB", "-40", "weak by 15 dB", "weak 10", "silent", "left phone",
       "button",
       // a check
       "isolate", "go on", "1000 77.5", "left 1000 71", "right 500", "1000 nan", "as it should",
       "swapped", "within", "7.5", "-2.5", "1e9",
       // a drill
       "1.1", "2.1", "2.3", "6.1", "7.2", "8.1", "close", "call", "hint", "chain", "aside",
       "suspect headset cord 70 %", "suspect channel .4", "s 1 101", "nothing", "1 2",
       // the form
       "default", "don't know", "yes", "no", "none", "all", "1, 2", "1 1 1"});

  std::string next() {
    const auto byte = static_cast<unsigned char>(bytes_.front());
    bytes_.remove_prefix(1);
    const std::string key(1, static_cast<char>(byte));
    if ((byte >= 'a' && byte <= 'z') || (byte >= '0' && byte <= '9') || byte == '?') {
      return at_terminal_ ? key : key + "\n";
    }
    if (byte >= 'A' && byte <= 'Z') return std::to_string(10 + (byte - 'A')) + "\n";
    if (byte == '\n') return key;
    constexpr unsigned char kAnyLine = 0x10;  // below it
    if (byte < kAnyLine) return any_line();
    return std::string(kWords[byte % kWords.size()]) + "\n";
  }

  std::string any_line() {
    const std::size_t end = std::min(bytes_.find('\n'), bytes_.size());
    std::string line(bytes_.substr(0, end));
    bytes_.remove_prefix(std::min(end + 1, bytes_.size()));
    return line + "\n";
  }

  std::string_view bytes_;
  bool at_terminal_;
  std::size_t left_;
};

}  // namespace whichlink::fuzz
