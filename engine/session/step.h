#pragma once
// A step: one thing the trainee does, as a verb of the trade and what it is done to. Its line of
// text is its only spelling: typed in the terminal, kept in the shift log, sent by the window.
//
//   parse_step("volts cc.a1 CC.A2")  ->  {verb "volts", arguments {"cc.a1", "CC.A2"}}
//   text(step)                       ->  "volts cc.a1 CC.A2"
//   parse_step("vots CC.A1 CC.A2")   ->  no step; why "unknown step 'vots'; did you mean 'volts'?"
//
// A step says nothing of minutes, rules or hazards: those are the row of its verb (verbs.h). Names
// of terminals and parts are looked up by submit() (attempt.h), which also puts their case right,
// so that a step can be parsed without a unit. Parsing never throws and bounds the length of a
// line.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/message.h"

namespace legwork::session {

struct Step {
  std::string verb;                    // a row of the table of verbs: "volts", "let it run"
  std::vector<std::string> arguments;  // "CC.A1"; an optional one left out is ""

  bool operator==(const Step&) const = default;
};

inline constexpr std::size_t kLongestLine = 500;  // bytes; a longer line is refused

struct ParsedStep {
  std::optional<Step> step;
  Message why;  // a sentence, when there is no step
};

// Reads one line. Case of verbs and runs of spaces do not matter; everything else does.
ParsedStep parse_step(std::string_view line);

// The canonical line: parse_step(text(s)).step == s for every step that parses.
std::string text(const Step& step);

}  // namespace legwork::session
