#pragma once
// Replay: a shift log's steps given again to a world of its own, each answer held against what the
// log says. The first line that differs is named; nothing after it is believed.
//
//   ReadLog read = read_log_file(path);
//   Replayed again = replay(*read.log, "", nullptr);
//   if (again.bad_line) complain("line {}: {}", again.bad_line, again.why);
//   else grade(*again.attempt);

#include <functional>
#include <memory>
#include <string>

#include "engine/session/attempt.h"
#include "engine/session/log.h"

namespace legwork::session {

struct Replayed {
  std::unique_ptr<Attempt>
      attempt;       // after the last step that agreed; null if the ticket does not load
  int bad_line = 0;  // 1-based line of the log; 0 = all of it agreed
  Message why;
};

// Called after each step that agreed. `line` is its line in the log.
using ReplayListener =
    std::function<void(int line, const LogStep& logged, const Attempt& now, const Outcome&)>;

// A closed log stands alone: unit and scenario are read from it. An open one needs the files that
// it was begun with: those of `home` ("" = home_folder()), or as this machine kept them
// (begun_files.h).
Replayed replay(const Log& log, const std::string& home, const ReplayListener& listener);

// What the log would say of the step just done.
LogStep log_step(const Attempt& attempt, const Outcome& outcome);
LogHeader log_header(const Attempt& attempt);
LogClosing log_closing(const Attempt& attempt);
// What differs, in words; empty = nothing.
Message difference(const LogStep& logged, const LogStep& again);

}  // namespace legwork::session
