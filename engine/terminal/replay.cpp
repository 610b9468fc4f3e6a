#include "engine/session/replay.h"

#include <fmt/format.h>

#include <memory>

#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string log;
  bool quiet = false;
};

int replay_log(const Options& options) {
  const session::ReadLog read = session::read_log_file(options.log);
  if (!read.log) {
    if (read.bad_line > 0) {
      fmt::print(stderr, "{}:{}: error: {}\n", options.log, read.bad_line, read.why);
    } else {
      fmt::print(stderr, "{}: error: {}\n", options.log, read.why);
    }
    return kFindings;
  }
  if (read.torn)
    fmt::print(stderr, "{}: the last line was torn off and is left out\n", options.log);
  bool first = true;
  const session::Replayed again =
      session::replay(*read.log, "",
                      [&](int, const session::LogStep& logged, const session::Attempt& now,
                          const session::Outcome& outcome) {
                        if (options.quiet) return;
                        session::View view;
                        view.clock_minute = session::clock_minute(now);
                        if (first) fmt::print("{}, {}\n", now.scenario->id, now.scenario->title.en);
                        first = false;
                        fmt::print("{}", step_text(view, logged.step, outcome));
                      });
  if (again.bad_line > 0) {
    fmt::print(stderr, "{}:{}: error: {}\n", options.log, again.bad_line, again.why);
    return kFindings;
  }
  fmt::print("{} steps, the same again{}.\n", read.log->steps.size(),
             read.log->closing ? "; closed: " + read.log->closing->why : "; not closed");
  return kFine;
}

Runner add(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("LOG", options->log, "A shift log (JSON Lines)");
  arguments.flag("--quiet", options->quiet, "Only say whether it is the same again");
  return [options] { return replay_log(*options); };
}

}  // namespace

std::span<const Command> commands_of_replay() {
  static constexpr Command kCommands[] = {
      {"replay", "Run a shift log again, step by step, and object at the first line that differs.",
       "The world is simulated anew; nothing is taken from the log but the steps.", add, 30}};
  return kCommands;
}

}  // namespace legwork::terminal
