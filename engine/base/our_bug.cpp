#include "engine/base/our_bug.h"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <csignal>
#include <cstring>

namespace legwork {
namespace {

// A handler may use neither memory nor locks: the path waits here.
std::array<char, 4096> log_path{};

void write_out(const char* text) {
  if (::write(STDERR_FILENO, text, std::strlen(text)) < 0) return;  // nobody to be told
}

void speak(int signal) {
  write_out("\nlegwork has stopped: the mistake is in the program, not in what you did.\n");
  if (log_path[0] != '\0') {
    write_out(
        "Every step that was answered is in the shift log; opening it goes on from there:\n  ");
    write_out(log_path.data());
    write_out("\nPlease send this file, the lines above and what you did last.\n");
  } else {
    write_out("Please send the lines above and what you did last.\n");
  }
  std::signal(signal, SIG_DFL);
  std::raise(signal);
}

}  // namespace

void say_where_the_log_is(std::string_view path) {
  static const bool installed = [] {
    for (const int signal : {SIGABRT, SIGSEGV, SIGBUS, SIGFPE, SIGILL}) {
      // A sanitizer or a fuzzer that listens already hears more than we would.
      struct sigaction there {};
      if (sigaction(signal, nullptr, &there) == 0 && there.sa_handler == SIG_DFL)
        std::signal(signal, speak);
    }
    return true;
  }();
  (void)installed;
  const std::size_t length = std::min(path.size(), log_path.size() - 1);
  std::copy_n(path.begin(), length, log_path.begin());
  log_path[length] = '\0';
}

}  // namespace legwork
