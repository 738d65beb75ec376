#include "shell.h"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>

#include "load/load.h"

namespace whichlink::cli {
namespace {

namespace fs = std::filesystem;

const Surroundings*& current() {
  static const Surroundings* one = nullptr;
  return one;
}

std::string environment(const char* name) {
  return around().environment(name);
}

bool locale_is_utf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    std::string value = environment(name);
    if (value.empty()) continue;
    std::transform(value.begin(), value.end(), value.begin(),
                   [](unsigned char letter) { return std::tolower(letter); });
    return value.find("utf-8") != std::string::npos || value.find("utf8") != std::string::npos;
  }
  return false;
}

fs::path data_folder() {
  return around().data;
}

const char* const kLessons = "rules/lessons";

/// Of the files of one folder of data, without their ending.
std::vector<std::string> names_in(const char* folder) {
  std::vector<std::string> names;
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(data_folder() / folder, error)) {
    if (entry.path().extension() == ".yaml") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

[[noreturn]] void cannot_write(const std::string& path, int error) {
  refuse(path, std::string("cannot be written: ") + std::strerror(error),
         "a file in a folder that can be written");
}

// Owns a file descriptor.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int number() const { return number_; }

 private:
  int number_;
};

}  // namespace

Within::Within(const Surroundings& around) {
  current() = &around;
}
Within::~Within() {
  current() = nullptr;
}
const Surroundings& around() {
  return *current();
}

void refuse(const Problem& problem) {
  throw BadInput{{problem}};
}
void refuse(const std::string& where, const std::string& what, const std::string& expected) {
  refuse(Problem{{where, 0, 0}, what, expected, ""});
}

bool is_terminal_err() {
  return around().err_is_terminal;
}

void show_progress(double share) {
  constexpr std::size_t kWidth = 40;
  const std::string done = render::bar(share, kWidth, {kWidth, false, locale_is_utf8()});
  around().err << '\r' << render::padded(done, kWidth) << ' ' << render::percent(share) << "  "
               << std::flush;
}

void end_progress() {
  constexpr std::size_t kMore = 50;
  if (is_terminal_err()) around().err << '\r' << std::string(kMore, ' ') << '\r' << std::flush;
}

render::Style style_of_output() {
  render::Style style;
  style.colour =
      around().out_is_terminal && environment("NO_COLOR").empty() && environment("TERM") != "dumb";
  style.unicode = locale_is_utf8();
  return style;
}

void show(const std::string& text) {
  if (!(around().out << text << std::flush)) {
    refuse("standard output", "cannot be written", "an open pipe and room on the disk");
  }
}

std::string installation_path(const std::string& name_or_path) {
  const fs::path by_name = data_folder() / "models" / (name_or_path + ".yaml");
  std::error_code none;
  const bool is_name = name_or_path.find('/') == std::string::npos;
  if (is_name && fs::is_regular_file(by_name, none)) return by_name.string();
  if (!fs::exists(name_or_path, none)) {
    const std::vector<std::string> known = names_in("models");
    refuse(Problem{{"", 0, 0},
                   "no installation \"" + name_or_path + "\"",
                   "a file, or " + one_of(known),
                   nearest(name_or_path, known)});
  }
  return name_or_path;
}

moves::Installation load_installation(const std::string& name_or_path) {
  return must(around().read_installation(installation_path(name_or_path),
                                         (data_folder() / "rules").string()));
}

std::string rules_path(const std::string& name) {
  return (data_folder() / "rules" / (name + ".yaml")).string();
}

std::vector<std::string> known_models() {
  return names_in("models");
}

std::vector<std::string> known_rules() {
  return names_in("rules");
}

faults::Rules load_rules(const std::string& name) {
  const std::vector<std::string> known = known_rules();
  if (std::find(known.begin(), known.end(), name) == known.end()) {
    refuse(Problem{{"", 0, 0}, "no rules \"" + name + "\"", one_of(known), nearest(name, known)});
  }
  return must(around().read_rules(rules_path(name)));
}

drill::Lessons load_lessons(const std::string& name_or_path) {
  const std::vector<std::string> known = names_in(kLessons);
  const std::string wanted = name_or_path.empty() && !known.empty() ? known.front() : name_or_path;
  if (std::find(known.begin(), known.end(), wanted) != known.end()) {
    return must(load::lessons_file((data_folder() / kLessons / (wanted + ".yaml")).string()));
  }
  std::error_code none;
  if (!fs::exists(wanted, none)) {
    refuse(Problem{{"", 0, 0},
                   "no lessons \"" + wanted + "\"",
                   "a file, or " + one_of(known),
                   nearest(wanted, known)});
  }
  return must(load::lessons_file(wanted));
}

std::string data_home() {
  std::string data = environment("XDG_DATA_HOME");
  if (!data.empty()) return data;
  const std::string home = environment("HOME");
  return home.empty() ? "." : home + "/.local/share";
}

void keep_file(const std::string& path, const std::string& text) {
  const fs::path target(path);
  if (target.has_parent_path()) {
    std::error_code error;
    fs::create_directories(target.parent_path(), error);
    if (error) cannot_write(path, error.value());
  }
  const std::string beside = path + ".new";
  {
    const Descriptor file(::open(beside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644));
    if (file.number() < 0) cannot_write(path, errno);
    std::size_t written = 0;
    while (written < text.size()) {
      const ssize_t count = ::write(file.number(), text.data() + written, text.size() - written);
      if (count < 0 && errno == EINTR) continue;
      if (count < 0) {
        const int error = errno;
        ::unlink(beside.c_str());
        cannot_write(path, error);
      }
      written += static_cast<std::size_t>(count);
    }
    if (::fsync(file.number()) != 0) cannot_write(path, errno);
  }
  if (::rename(beside.c_str(), path.c_str()) != 0) cannot_write(path, errno);
  const std::string folder = target.has_parent_path() ? target.parent_path().string() : ".";
  const Descriptor directory(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (directory.number() >= 0) ::fsync(directory.number());
}

}  // namespace whichlink::cli
