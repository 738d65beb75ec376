#include "child.h"

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>

namespace whichlink::testing {
namespace {

// In the child: only what is safe after a fork.
[[noreturn]] void become(const std::vector<std::string>& arguments,
                         std::size_t largest_file_bytes) {
  if (largest_file_bytes > 0) {
    std::signal(SIGXFSZ, SIG_IGN);  // the write fails instead, as on a full disk
    const rlimit limit{largest_file_bytes, largest_file_bytes};
    ::setrlimit(RLIMIT_FSIZE, &limit);
  }
  std::vector<char*> pointers;
  std::string program = WHICHLINK_PROGRAM;
  pointers.push_back(program.data());
  std::vector<std::string> copies = arguments;
  for (std::string& one : copies) pointers.push_back(one.data());
  pointers.push_back(nullptr);
  ::execv(program.c_str(), pointers.data());
  ::_exit(127);
}

}  // namespace

Child::Child(const std::vector<std::string>& arguments, std::size_t largest_file_bytes) {
  std::signal(SIGPIPE, SIG_IGN);
  std::array<int, 2> in{};
  std::array<int, 2> out{};
  if (::pipe(in.data()) != 0 || ::pipe(out.data()) != 0) {
    ADD_FAILURE() << "no pipe";
    return;
  }
  process_ = ::fork();
  if (process_ == 0) {
    ::dup2(in[0], STDIN_FILENO);
    ::dup2(out[1], STDOUT_FILENO);
    ::dup2(out[1], STDERR_FILENO);
    for (const int one : {in[0], in[1], out[0], out[1]}) ::close(one);
    become(arguments, largest_file_bytes);
  }
  ::close(in[0]);
  ::close(out[1]);
  in_ = in[1];
  out_ = out[0];
}

Child::~Child() {
  kill();
  wait();
  ::close(in_);
  ::close(out_);
}

void Child::write_line(const std::string& text) const {
  const std::string line = text + "\n";
  // A child that has ended takes nothing more; that shows when its output ends.
  [[maybe_unused]] const ssize_t written = ::write(in_, line.data(), line.size());
}

bool Child::read_until(const std::string& text) {
  before_ = searched_;
  while (true) {
    const std::size_t found = output_.find(text, searched_);
    if (found != std::string::npos) {
      searched_ = found + text.size();
      return true;
    }
    std::array<char, 4096> buffer{};
    const ssize_t count = ::read(out_, buffer.data(), buffer.size());
    if (count <= 0) return false;
    output_.append(buffer.data(), static_cast<std::size_t>(count));
  }
}

void Child::kill() {
  if (process_ > 0) ::kill(process_, SIGKILL);
}

int Child::wait() {
  if (process_ <= 0) return -1;
  int status = 0;
  ::waitpid(process_, &status, 0);
  process_ = -1;
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace whichlink::testing
