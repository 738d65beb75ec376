#include "terminal.h"

#include <termios.h>
#include <unistd.h>

#include <csignal>

namespace whichlink::cli {
namespace {

// The settings from before, where the signal handler finds them, which can be given nothing.
termios& plain_terminal() {
  static termios settings{};
  return settings;
}

void restore_and_die(int signal_number) {
  ::tcsetattr(STDIN_FILENO, TCSANOW, &plain_terminal());
  std::signal(signal_number, SIG_DFL);
  ::raise(signal_number);
}

class TerminalKeyboard : public Keyboard {
 public:
  TerminalKeyboard() {
    ::tcgetattr(STDIN_FILENO, &plain_terminal());
    termios keys = plain_terminal();
    keys.c_lflag &= ~static_cast<tcflag_t>(ICANON | ECHO);
    keys.c_cc[VMIN] = 1;
    keys.c_cc[VTIME] = 0;
    for (const int one : {SIGINT, SIGTERM, SIGHUP, SIGQUIT}) std::signal(one, restore_and_die);
    ::tcsetattr(STDIN_FILENO, TCSADRAIN, &keys);
  }
  ~TerminalKeyboard() override { ::tcsetattr(STDIN_FILENO, TCSADRAIN, &plain_terminal()); }
  TerminalKeyboard(const TerminalKeyboard&) = delete;
  TerminalKeyboard& operator=(const TerminalKeyboard&) = delete;

  std::optional<char> read() override {
    char key = 0;
    if (::read(STDIN_FILENO, &key, 1) != 1) return std::nullopt;
    return key;
  }
};

}  // namespace

std::unique_ptr<Keyboard> terminal_keyboard() {
  return std::make_unique<TerminalKeyboard>();
}

}  // namespace whichlink::cli
