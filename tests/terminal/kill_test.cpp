// The program killed at any moment of a call: every step that it has answered is in the log, the
// log runs again, and the call is gone on with to its end.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <string>
#include <thread>
#include <vector>

#include "engine/base/random.h"
#include "engine/session/log.h"
#include "tests/support/all.h"
#include "tests/support/own_folder.h"
#include "tests/terminal/program.h"

namespace legwork::terminal {
namespace {

// Cheap steps, so that most moments fall between two of them, and all of them are accepted.
const std::vector<std::string>& steps() {
  static const std::vector<std::string> list = [] {
    std::vector<std::string> out;
    for (int i = 0; i < 60; ++i) out.push_back("write down note number " + std::to_string(i));
    return out;
  }();
  return list;
}

// Begins the call with its log at `path` and kills the program after `delay`. What it answered.
std::string killed_after(const std::string& path, std::chrono::microseconds delay) {
  int in[2], out[2];
  if (pipe2(in, O_CLOEXEC) != 0 || pipe2(out, O_CLOEXEC) != 0) return {};
  const pid_t child = fork();
  if (child == 0) {
    dup2(in[0], STDIN_FILENO);
    dup2(out[1], STDOUT_FILENO);
    const int nowhere = open("/dev/null", O_WRONLY);
    dup2(nowhere, STDERR_FILENO);
    execl(LEGWORK_PROGRAM, LEGWORK_PROGRAM, "work", "mb-001", "--log", path.c_str(), nullptr);
    _exit(127);
  }
  close(in[0]);
  close(out[1]);
  const auto before = std::signal(SIGPIPE, SIG_IGN);
  std::thread types([&] {
    for (const std::string& step : steps()) {
      const std::string line = step + "\n";
      if (write(in[1], line.data(), line.size()) < 0) break;
    }
    std::this_thread::sleep_for(delay);
    kill(child, SIGKILL);
    close(in[1]);
  });
  std::string answered;
  char buffer[4096];
  for (ssize_t n = 0; (n = read(out[0], buffer, sizeof buffer)) > 0;)
    answered.append(buffer, static_cast<std::size_t>(n));
  types.join();
  close(out[0]);
  int status = 0;
  waitpid(child, &status, 0);
  std::signal(SIGPIPE, before);
  return answered;
}

std::size_t answered_steps(const std::string& answers) {
  std::size_t count = 0;
  for (const std::string& step : steps()) {
    const std::size_t at = answers.find(step + " (");
    count += at != answers.npos && answers.find('\n', at) != answers.npos;
  }
  return count;
}

TEST(Kill, AtAnyMomentNothingThatWasAnsweredIsLost) {
  const int moments = support::attacked() ? 100 : 12;
  Random random(7);
  std::size_t least = 1000, most = 0;
  for (int i = 0; i < moments; ++i) {
    const support::OwnFolder folder;
    const std::string log = folder / "log.jsonl";
    // From before the header to the last of the steps, whatever the machine is busy with.
    const auto delay = std::chrono::microseconds(random.below(400000));
    const std::size_t answered = answered_steps(killed_after(log, delay));
    least = std::min(least, answered);
    most = std::max(most, answered);
    const Ran on = run_program("work mb-001 --log " + log + " <<'END'\nwrite down went on\nEND\n");
    ASSERT_EQ(on.code, 0) << i << ": " << on.errors;
    const session::ReadLog read = session::read_log_file(log);
    ASSERT_TRUE(read.log) << i;
    ASSERT_FALSE(read.torn) << i;
    ASSERT_GE(read.log->steps.size(), answered + 1) << i;
    for (std::size_t k = 0; k + 1 < read.log->steps.size(); ++k)
      EXPECT_EQ(read.log->steps[k].step, steps()[k]) << i;
    EXPECT_EQ(read.log->steps.back().step, "write down went on");
    EXPECT_EQ(run_program("replay --quiet " + log).code, 0) << i;
    EXPECT_FALSE(std::filesystem::exists(log + ".open")) << i;
  }
  EXPECT_LT(least, steps().size()) << "no kill came in the middle of a call";
}

}  // namespace
}  // namespace legwork::terminal
