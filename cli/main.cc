#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <iostream>

#include "program.h"
#include "terminal.h"

#ifdef __GLIBC__  // known once a header of the library was read
#include <malloc.h>
#endif

namespace {

namespace fs = std::filesystem;

// Each step makes and drops millions of small arrays. The library's allocator gives memory back to
// the system and asks for it again all the while, which takes a fifth of the time; we keep it.
void keep_memory() {
#ifdef __GLIBC__
  constexpr int kPlenty = 64 << 20;
  mallopt(M_TRIM_THRESHOLD, kPlenty);
  mallopt(M_TOP_PAD, 4 << 20);
  mallopt(M_MMAP_THRESHOLD, kPlenty);
#endif
}

std::string environment(const std::string& name) {
  const char* value = std::getenv(name.c_str());
  return value == nullptr ? "" : value;
}

// Rules and installations: in share/whichlink beside the program's own folder, wherever the two
// were put (the build makes such a folder too); else where they were to be installed.
fs::path data_folder() {
  std::error_code none;
  const fs::path program = fs::read_symlink("/proc/self/exe", none);
  fs::path beside = program.parent_path().parent_path() / "share" / "whichlink";
  if (!none && fs::is_directory(beside / "rules", none)) return beside;
  return WHICHLINK_INSTALLED_DATA;
}

}  // namespace

int main(int argc, char** argv) {
  keep_memory();
  std::signal(SIGPIPE, SIG_IGN);  // a closed pipe is a write error with a line, not a silent death
  whichlink::cli::Surroundings around{std::cin, std::cout, std::cerr};
  around.out_is_terminal = ::isatty(STDOUT_FILENO) == 1;
  around.err_is_terminal = ::isatty(STDERR_FILENO) == 1;
  if (::isatty(STDIN_FILENO) == 1) around.keyboard = whichlink::cli::terminal_keyboard;
  around.environment = environment;
  around.data = data_folder().string();
  return whichlink::cli::run_program(argc, argv, around);
}
