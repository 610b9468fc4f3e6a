#pragma once
// Other common words for a step, in one table: what somebody says on site, and the canonical line
// that the log keeps.
//
//   canonical_line("change filter", attempt)      // "replace air filter"
//   canonical_line("lift CC.A1", attempt)         // "lift HPC.2>CC.A1 at CC.A1"
//   canonical_line("volts CC.A1 to ground", a)    // "volts CC.A1 GND"
//
// A line that no alias fits comes back as it is.

#include <span>
#include <string>
#include <string_view>

#include "engine/session/attempt.h"

namespace legwork::session {

struct Alias {
  std::string_view said;   // pattern (pattern.h): "turn off {part}"
  std::string_view meant;  // "open {part}"; {here}: the place where one stands
};
std::span<const Alias> aliases();

// By the table alone, without a place and parts to go by: "turn off DISC" is "open DISC".
std::string without_alias(std::string_view line);

std::string canonical_line(std::string_view line, const Attempt& attempt);

}  // namespace legwork::session
