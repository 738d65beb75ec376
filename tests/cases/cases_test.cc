// Commands and what they must say. A case is a text file that anybody can write:
//   first: ARGUMENTS           the same, run before in the same folder, and nothing asked of it but
//                              that it succeeds (any number)
//   run: ARGUMENTS             what follows the program's name, as typed in a shell
//   input: LINE                a line of standard input (any number)
//   exit: CODE                 0 unless said otherwise
//   says: TEXT                 a line of what it writes holds this (any number)
//   silent: TEXT               no line holds this
// Besides, every ```console block of the documentation is run and its output compared line by line;
// those of one page in one folder, which holds the .txt and .yaml files of tests/cases.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace whichlink::testing {
namespace {

namespace fs = std::filesystem;
const fs::path kRoot = WHICHLINK_SOURCE_DIR;

struct Ran {
  int code = -1;
  std::string out;
};

/// A scratch folder, so that a command that writes leaves nothing behind.
class Folder {
 public:
  Folder() : path_(fs::temp_directory_path() / ("whichlink-cases-" + std::to_string(::getpid()))) {
    fs::remove_all(path_);
    fs::create_directories(path_);
  }
  ~Folder() {
    std::error_code none;
    fs::remove_all(path_, none);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  [[nodiscard]] const fs::path& path() const { return path_; }

  [[nodiscard]] Ran run(const std::string& arguments, const std::string& input) const {
    // Beside the folder, which belongs to the commands.
    const std::string typed = path_.string() + ".input";
    std::ofstream(typed) << input;
    const std::string command = "cd '" + path_.string() +
                                "' && export LC_ALL=C.UTF-8 XDG_DATA_HOME=. CASES='" +
                                (kRoot / "tests/cases").string() + "' && '" + WHICHLINK_PROGRAM +
                                "' " + arguments + " <'" + typed + "' 2>&1";
    Ran ran;
    std::FILE* pipe = ::popen(command.c_str(), "r");
    if (pipe == nullptr) return ran;
    std::array<char, 4096> buffer{};
    for (std::size_t count = 0; (count = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
      ran.out.append(buffer.data(), count);
    }
    const int status = ::pclose(pipe);
    ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    fs::remove(typed);
    return ran;
  }

 private:
  fs::path path_;
};

std::vector<fs::path> files_in(const fs::path& folder, const std::string& ending) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder)) {
    if (entry.path().extension() == ending) files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

bool starts(const std::string& line, const std::string& label, std::string& rest) {
  if (line.rfind(label + ":", 0) != 0) return false;
  rest = line.substr(label.size() + 1);
  rest.erase(0, rest.find_first_not_of(' ') == std::string::npos ? rest.size()
                                                                 : rest.find_first_not_of(' '));
  return true;
}

TEST(Cases, EveryCaseFileHolds) {
  std::size_t checks = 0;
  const std::vector<fs::path> files = files_in(kRoot / "tests/cases", ".case");
  for (const fs::path& file : files) {
    SCOPED_TRACE(file.filename().string());
    std::ifstream in(file);
    std::string arguments;
    std::string input;
    int code = 0;
    const Folder folder;
    std::vector<std::string> says;
    std::vector<std::string> silent;
    for (std::string line, rest; std::getline(in, line);) {
      if (line.empty() || line[0] == '#') continue;
      if (starts(line, "run", rest)) {
        arguments = rest;
      } else if (starts(line, "first", rest)) {
        const Ran before = folder.run(rest, "");
        EXPECT_EQ(before.code, 0) << rest << "\n" << before.out;
      } else if (starts(line, "input", rest)) {
        input += rest + "\n";
      } else if (starts(line, "exit", rest)) {
        code = std::stoi(rest);
      } else if (starts(line, "says", rest)) {
        says.push_back(rest);
      } else if (starts(line, "silent", rest)) {
        silent.push_back(rest);
      } else {
        ADD_FAILURE() << "not understood: " << line;
      }
    }
    ASSERT_FALSE(says.empty()) << "a case that checks nothing";
    const Ran ran = folder.run(arguments, input);
    EXPECT_EQ(ran.code, code) << ran.out;
    for (const std::string& text : says) {
      ++checks;
      EXPECT_NE(ran.out.find(text), std::string::npos) << text << "\nis not in:\n" << ran.out;
    }
    for (const std::string& text : silent) {
      ++checks;
      EXPECT_EQ(ran.out.find(text), std::string::npos) << text << "\nis in:\n" << ran.out;
    }
  }
  EXPECT_GE(files.size(), 15U);
  EXPECT_GE(checks, 30U);
}

void check_block(const Folder& folder, const std::string& block) {
  std::istringstream lines(block);
  std::string command;
  std::string expected;
  const auto compare = [&] {
    if (command.empty()) return;
    EXPECT_EQ(folder.run(command, "").out, expected) << "$ whichlink " << command;
  };
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("$ whichlink ", 0) == 0) {
      compare();
      command = line.substr(12);
      expected.clear();
    } else {
      expected += line + "\n";
    }
  }
  compare();
}

TEST(Documentation, EveryConsoleExampleSaysWhatItSays) {
  std::vector<fs::path> pages = files_in(kRoot / "docs", ".md");
  const std::vector<fs::path> guides = files_in(kRoot / "docs/guides", ".md");
  EXPECT_GE(guides.size(), 5U);  // one for each of those who use it
  pages.insert(pages.end(), guides.begin(), guides.end());
  pages.push_back(kRoot / "README.md");
  pages.push_back(kRoot / "DEVELOPERS.md");
  std::size_t examples = 0;
  for (const fs::path& page : pages) {
    SCOPED_TRACE(page.filename().string());
    const Folder folder;
    for (const char* kind : {".txt", ".yaml"}) {
      for (const fs::path& file : files_in(kRoot / "tests/cases", kind)) {
        fs::copy(file, folder.path());
      }
    }
    std::ifstream in(page);
    std::string block;
    bool inside = false;
    for (std::string line; std::getline(in, line);) {
      if (line == "```console") {
        inside = true;
        block.clear();
      } else if (inside && line == "```") {
        inside = false;
        ++examples;
        check_block(folder, block);
      } else if (inside) {
        block += line + "\n";
      }
    }
    EXPECT_FALSE(inside) << "a block without an end";
  }
  EXPECT_GE(examples, 2U);
}

}  // namespace
}  // namespace whichlink::testing
