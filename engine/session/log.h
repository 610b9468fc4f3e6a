#pragma once
// The shift log: the file of everything that happened in one attempt. JSON Lines, UTF-8, one object
// a line; this header is its specification (format 2). log_writer.h writes it.
//
//   {"kind":"header","format":2,"program":"0.1.0","unit":"wf-208","unit_sha256":"…","scenario":"mb-004",
//    "scenario_sha256":"…","seed":1,"chain":"…"}
//   {"kind":"step","tick":88320,"step":"volts CC.A1 CC.A2","typed":"Volts cc.a1 cc.a2","ticks":480,
//    "place":"roof","seen":[…],"happened":[…],"hazards":[…],"fingerprint":"3f…","chain":"…"}
//   {"kind":"closing","tick":…,"why":"signed off","write_up":{…},"unit_text":"…",
//    "scenario_text":"…","chain":"…"}
//
// It holds what was done and observed, as kinds and numbers, and no sentence: those follow from
// playing it again, in whatever language is read. `step` is the canonical line, which is English
// everywhere; `typed` stands only where somebody typed it otherwise. `tick` counts from the
// arrival; it is the tick at the end of the step. In it:
//
//   seen      {"key":"volts CC.A1 CC.A2","value":204.6,"unit":"V"}   the number on the display
//             {"key":"ohms CC.A1 CC.A2","not_read":"live"}           or "charged", "not isolated"
//             {"key":"ohms CC.A1 CC.A2","over":true}                 beyond the range
//             {"key":"look condenser","state":2}                     a look: index of its state
//             {…,"source":"glance"}                                  free: made beside the step by
//             the
//                                                                    eye, or by a "live lead"
//   happened  {"tick":88000,"what":"pulls in","device":"CC"}         names of seen.h
//   hazards   {"id":"ohms live","harm":"serious","facts":{"volts":"204 V",…}}  arguments of its why
//
// Fields that a reader does not know are left alone, so that an observation may get more of them.
// `fingerprint` is of everything that could be seen, as integers (positions of contacts,
// instruments rounded to their digit), 16 hex digits. `chain` is the SHA-256 of the chain of the
// line before (of "" for the header) followed by this line without its chain: an altered, missing
// or moved line breaks it there. It is a seal against accidents and idle hands, not against
// somebody who recomputes it: replay() runs the world again and objects to what the world does not
// say.
//
// Format 1 wrote sentences instead. It is still read, for looking at (`as_written`), and not played
// again.
//
// Each line is on the disk before its step answers, and one program at a time writes (log_file.h).
// A last line without its newline was torn off by a kill: it is dropped, and the reader says so. A
// log that was damaged in its middle can be salvaged (salvage.h) and says so in a line of its own,
// {"kind":"salvaged","line":7,"chain":"…"}. Lines may end in "\r\n", as an editor leaves them. No
// text holds control characters but tabs and line ends; unit and scenario are names
// (base/plain_text.h), never paths.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "engine/session/seen.h"
#include "engine/session/write_up.h"

namespace legwork::session {

inline constexpr int kLogFormat = 2;
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

struct LogHazard {
  std::string id;
  Harm harm = Harm::slip;
  std::vector<std::pair<std::string, std::string>> facts;  // facts_of(why)
  bool operator==(const LogHazard&) const = default;
};

struct LogStep {
  std::int64_t tick = 0;   // at its end, since the arrival
  std::string step;        // text(step)
  std::string typed;       // as it was typed, if otherwise
  std::int64_t ticks = 0;  // what it cost
  std::string place;       // where it was done
  std::vector<Observation> seen;
  std::vector<Happening> happened;  // ticks since the arrival
  std::vector<LogHazard> hazards;
  std::string fingerprint;
  std::vector<std::string> as_written;  // of format 1: what it said was seen, heard and told
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
  int salvaged_at = 0;  // the line that was damaged when it was salvaged; 0 = it is whole
};

struct ReadLog {
  std::optional<Log> log;
  int bad_line = 0;              // 1-based line that is wrong; 0 = none
  Message why;                   // what is wrong with it
  bool unbegun = false;          // a kill came before the header was whole: begin it again
  bool torn = false;             // the last line had no newline and was dropped
  std::string tail_chain;        // chain of the last good line: what the next line goes on from
  std::uint64_t good_bytes = 0;  // length of the file up to the end of the last good line
  std::uint64_t bytes = 0;       // length of the file
};

// Names and numbers of a sentence without its words: {"volts", "204 V"}.
std::vector<std::pair<std::string, std::string>> facts_of(const Message& message);
// The same on the display, or the same look.
bool same_reading(const Observation& a, const Observation& b);

// "shift.jsonl:12: the line is too long".
Message located(const std::string& file, int line, const Message& why);

ReadLog read_log(std::string_view text);
ReadLog read_log_file(const std::string& path);

}  // namespace legwork::session
