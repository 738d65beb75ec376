#pragma once

#include <map>
#include <memory>
#include <optional>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "program.h"

/// The whole program run in this process, as by somebody who sits before it.
namespace whichlink::testing {

/// How the answers come.
enum class Way { pipe, terminal };

struct Asked {
  std::vector<std::string> words;  ///< of the command line
  std::string typed;
  Way way = Way::pipe;
  bool utf8 = true;  ///< the locale's character set
  std::string home;  ///< the user's data folder
};

struct Told {
  int code = 0;
  std::string out, err;
  friend bool operator==(const Told&, const Told&) = default;
};

/// Keys out of a text.
class Typed : public cli::Keyboard {
 public:
  explicit Typed(std::string_view& left) : left_(left) {}
  std::optional<char> read() override {
    if (left_.empty()) return std::nullopt;
    const char key = left_.front();
    left_.remove_prefix(1);
    return key;
  }

 private:
  std::string_view& left_;
};

// What comes with whichlink is read once.
inline Result<faults::Rules> rules_read_once(const std::string& file) {
  static std::map<std::string, Result<faults::Rules>> known;
  auto found = known.find(file);
  if (found == known.end()) found = known.emplace(file, load::rules_file(file)).first;
  return found->second;
}
inline Result<moves::Installation> installation_read_once(const std::string& file,
                                                          const std::string& rules) {
  static std::map<std::string, Result<moves::Installation>> known;
  if (file.rfind(WHICHLINK_SOURCE_DIR, 0) != 0) return load::installation_file(file, rules);
  auto found = known.find(file);
  if (found == known.end()) found = known.emplace(file, load::installation_file(file, rules)).first;
  return found->second;
}

inline Told run(const Asked& asked) {
  std::istringstream in(asked.way == Way::pipe ? asked.typed : "");
  std::ostringstream out;
  std::ostringstream err;
  cli::Surroundings around{in, out, err};
  std::string_view left = asked.typed;
  if (asked.way == Way::terminal) {
    around.out_is_terminal = true;
    around.keyboard = [&left] { return std::make_unique<Typed>(left); };
  }
  around.environment = [&](const std::string& name) -> std::string {
    if (name == "LC_ALL") return asked.utf8 ? "C.UTF-8" : "C";
    return name == "XDG_DATA_HOME" ? asked.home : "";
  };
  around.data = WHICHLINK_SOURCE_DIR;
  around.read_rules = rules_read_once;
  around.read_installation = installation_read_once;
  std::vector<const char*> argv{"whichlink"};
  for (const std::string& word : asked.words) argv.push_back(word.c_str());
  const int code = cli::run_program(static_cast<int>(argv.size()), argv.data(), around);
  return {code, out.str(), err.str()};
}

}  // namespace whichlink::testing
