#include "engine/terminal/streams.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <system_error>

#include "engine/terminal/commands.h"

namespace legwork::terminal {
namespace {

// Standard error may be what fails: then there is nobody to be told.
void complain(const char* what, int error) {
  const std::string line = fmt::format("{}: error: {}\n", what, std::strerror(error));
  if (std::fwrite(line.data(), 1, line.size(), stderr) != line.size()) return;
}

int lost(int error) {
  if (error != EPIPE) complain("standard output: cannot be written", error);
  return kFindings;
}

}  // namespace

void ready_streams() {
  // The other way round than it is used, so that using it fails as it would have.
  constexpr int kModes[] = {O_WRONLY, O_RDONLY, O_RDONLY};
  for (int stream = 0; stream < 3; ++stream) {
    if (fcntl(stream, F_GETFD) == -1 && errno == EBADF &&
        ::open("/dev/null", kModes[stream]) != stream) {
      _exit(kFindings);
    }
  }
  std::signal(SIGPIPE, SIG_IGN);
}

int guarded(const std::function<int()>& act) {
  int code = kFine;
  try {
    code = act();
  } catch (const std::system_error& error) {
    if (std::ferror(stdout) != 0) return lost(error.code().value());
    if (std::ferror(stderr) == 0) complain("legwork", error.code().value());
    return kFindings;
  }
  errno = 0;
  const bool written = std::fflush(stdout) == 0 && std::ferror(stdout) == 0;
  return written ? code : lost(errno == 0 ? EIO : errno);
}

}  // namespace legwork::terminal
