#pragma once

#include <functional>
#include <istream>
#include <memory>
#include <optional>
#include <ostream>
#include <string>

#include "load/load.h"

namespace whichlink::cli {

/// Keys of a terminal, one by one as they are pressed and unseen, for as long as it lives.
class Keyboard {
 public:
  Keyboard() = default;
  Keyboard(const Keyboard&) = delete;
  Keyboard& operator=(const Keyboard&) = delete;
  virtual ~Keyboard() = default;
  /// One byte; nothing at the end of input.
  [[nodiscard]] virtual std::optional<char> read() = 0;
};

/// What a run of the program has around it. All that it reads of the machine, or writes other than
/// files, goes by here, the clock excepted.
struct Surroundings {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  bool out_is_terminal = false;
  bool err_is_terminal = false;
  /// Takes the terminal's keys for one answer; empty where standard input is no terminal.
  std::function<std::unique_ptr<Keyboard>()> keyboard = {};
  /// What a variable of the environment holds; "" where it is not set.
  std::function<std::string(const std::string&)> environment = [](const std::string&) {
    return std::string();
  };
  std::string data = {};  ///< the folder that holds rules/ and models/
  /// How rules and installations are read; who runs the program many times may keep them.
  std::function<Result<faults::Rules>(const std::string& file)> read_rules = load::rules_file;
  std::function<Result<moves::Installation>(const std::string& file, const std::string& rules)>
      read_installation = load::installation_file;
};

}  // namespace whichlink::cli
