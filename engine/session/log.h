#pragma once
// The shift log: the file of everything that happened in one attempt. JSON Lines, UTF-8, one object
// a line; this header is its specification.
//
//   {"kind":"header","format":1,"program":"0.1.0","unit":"wf-208","unit_sha256":"…","scenario":"mb-004",
//    "scenario_sha256":"…","seed":1,"chain":"…"}
//   {"kind":"step","tick":88320,"step":"volts CC.A1 CC.A2","ticks":480,"place":"roof","seen":[…],
//    "happened":[…],"said":[…],"hazards":[…],"fingerprint":"3f…","chain":"…"}
//   {"kind":"closing","tick":…,"why":"signed
//   off","write_up":{…},"unit_text":"…","scenario_text":"…","chain":"…"}
//
// `tick` counts from the arrival; it is the tick at the end of the step. `seen` holds key, shown
// text, state and the value rounded to the display. `fingerprint` is of everything that could be
// seen, as integers (fingerprint of positions of contacts, instruments rounded to their digit), 16
// hex digits. `chain` is the SHA-256 of the chain of the line before (of "" for the header)
// followed by this line without its chain: an altered, missing or moved line breaks it there. It is
// a seal against accidents and idle hands, not against somebody who recomputes it: replay() runs
// the world again and objects to what the world does not say.
//
// Each line is written and flushed before its step answers. A last line without its newline was
// torn off by a kill: it is dropped, and the reader says so.

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/session/seen.h"
#include "engine/session/write_up.h"

namespace legwork::session {

inline constexpr int kLogFormat = 1;
inline constexpr std::size_t kLargestLog = 64u << 20;  // bytes; a larger file is refused

struct LogHeader {
  int format = kLogFormat;
  std::string program;  // version
  std::string unit;     // id
  std::string unit_sha256;
  std::string scenario;
  std::string scenario_sha256;
  std::uint64_t seed = 1;
};

struct LogStep {
  std::int64_t tick = 0;   // at its end, since the arrival
  std::string step;        // text(step)
  std::int64_t ticks = 0;  // what it cost
  std::string place;       // where it was done
  Seen seen;
  std::vector<Hazard> hazards;
  std::string fingerprint;
};

struct LogClosing {
  std::int64_t tick = 0;
  std::string why;  // "signed off", or the hazard that ended the call
  WriteUp write_up;
  std::string unit_text;
  std::string scenario_text;
};

struct Log {
  LogHeader header;
  std::vector<LogStep> steps;
  std::optional<LogClosing> closing;
};

struct ReadLog {
  std::optional<Log> log;
  int bad_line = 0;              // 1-based line that is wrong; 0 = none
  std::string why;               // what is wrong with it
  bool torn = false;             // the last line had no newline and was dropped
  std::string tail_chain;        // chain of the last good line: what the next line goes on from
  std::uint64_t good_bytes = 0;  // length of the file up to the end of the last good line
};

ReadLog read_log(std::string_view text);
ReadLog read_log_file(const std::string& path);

// Appends lines; each is on its way to the disk (written and flushed) when the call returns.
class LogWriter {
 public:
  // Starts a new file; refuses one that exists. `why` says what went wrong when nothing is
  // returned.
  static std::unique_ptr<LogWriter> create(const std::string& path, const LogHeader& header,
                                           std::string& why);
  // Goes on with a file that read_log found good: cuts a torn tail off first.
  static std::unique_ptr<LogWriter> append_to(const std::string& path, const ReadLog& read,
                                              std::string& why);
  ~LogWriter();

  bool write(const LogStep& step);
  bool write(const LogClosing& closing);

 private:
  struct File;
  explicit LogWriter(std::unique_ptr<File> file);
  std::unique_ptr<File> file_;
};

}  // namespace legwork::session
