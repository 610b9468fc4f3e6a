#include "engine/session/replay.h"

#include <fmt/format.h>

#include <memory>

#include "engine/session/provenance.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string log;
  bool quiet = false;
};

int replay_log(const Options& options) {
  const auto complain_at = [&](int line, const Message& why) {
    fmt::print(stderr, "{}\n",
               spoken(session::located(options.log, line, say("error: {what}", {{"what", why}}))));
    return kFindings;
  };
  const session::ReadLog read = session::read_log_file(options.log);
  if (!read.log) return complain_at(read.bad_line, read.why);
  if (read.torn)
    fmt::print(stderr, "{}\n",
               spoken(say("{file}: the last line was torn off and is left out",
                          {{"file", Name{options.log}}})));
  // An earlier format is shown as it was written.
  if (read.log->header.format < session::kLogFormat && !options.quiet) {
    for (const session::LogStep& step : read.log->steps) {
      fmt::print("{}\n", step.step);
      for (const std::string& line : step.as_written)
        fmt::print("       {}\n", without_controls(line));
    }
  }
  bool first = true;
  const session::Replayed again =
      session::replay(*read.log, "",
                      [&](int, const session::LogStep& logged, const session::Attempt& now,
                          const session::Outcome& outcome) {
                        if (options.quiet) return;
                        session::View view;
                        view.clock_minute = session::clock_minute(now);
                        view.unit = now.unit;
                        if (first)
                          fmt::print("{}, {}\n", now.scenario->id, spoken(now.scenario->title));
                        first = false;
                        fmt::print("{}", step_text(view, logged.step, outcome));
                      });
  if (again.bad_line > 0) return complain_at(again.bad_line, again.why);
  const Number steps{static_cast<double>(read.log->steps.size()), 0};
  tell(read.log->closing ? say("{n} steps, the same again; closed: {why}.",
                               {{"n", steps}, {"why", Term{read.log->closing->why}}})
                         : say("{n} steps, the same again; not closed.", {{"n", steps}}));
  for (const Message& remark : session::remarks_on(session::provenance_of(read.log->header, {})))
    tell(say("Note: {remark}.", {{"remark", remark}}));
  if (read.log->salvaged_at > 0) {
    const Number line{static_cast<double>(read.log->salvaged_at), 0};
    tell(say("Note: the log was damaged at line {line}; what stood behind it is lost.",
             {{"line", line}}));
  }
  return kFine;
}

Runner add(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("LOG", options->log, phrase("A shift log (JSON Lines)"));
  arguments.flag("--quiet", options->quiet, phrase("Only say whether it is the same again"));
  return [options] { return replay_log(*options); };
}

}  // namespace

std::span<const Command> commands_of_replay() {
  static constexpr Command kCommands[] = {
      {"replay",
       phrase("Run a shift log again, step by step, and object at the first line that differs."),
       phrase("The world is simulated anew; nothing is taken from the log but the steps."), add,
       30}};
  return kCommands;
}

}  // namespace legwork::terminal
