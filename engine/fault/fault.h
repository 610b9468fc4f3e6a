// A fault: what is wrong, how it fails, how much, and when. It acts only as a changed copy of the
// unit: solver and plant never know that one is present, and no fault writes a reading.
//
//   Result<Fault> fault = parse_fault(unit, "condenser: plugged inside: 0.65");
//   unit::Unit broken = with_faults(unit, {*fault});
//   text(unit, *fault);                   // "condenser: plugged inside: two thirds"
//
// `what` is one of
//   a device          "HPC", "CM", "FU2"
//   a wire            "FU4.2>HPC.1"           (see circuits/README.md)
//   a plant condition "condenser", "charge", "evaporator", "box" ... (modes.h lists them)
//   "supply"
// `how` is a mode of that thing's kind (modes.h). `severity` is a number within the mode's levels,
// or the words of one of them ("FU4.2>HPC.1: high resistance: 5 ohm"); left out, the mode's usual
// one.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/result.h"
#include "engine/unit/unit.h"

namespace legwork::fault {

enum class When {
  always,
  after,         // from `after_s` on, counted from the start of the world
  intermittent,  // comes and goes with `trigger`
};

enum class Trigger {
  time,         // bad for the first `bad_s` of every `period_s`
  temperature,  // bad while `quantity` (kelvin) is above `on`, until it is below `off` again
  pressure,     // the same with pascals
  vibration,    // bad while the compressor shakes (turns), and for `bad_s` after it has stopped
};

// When a fault is there. `on` < `off` turns a threshold round: bad while *below* `on`, until above
// `off`.
struct Onset {
  When when = When::always;
  double after_s = 0;
  Trigger trigger = Trigger::time;
  double period_s = 0;
  double bad_s = 0;
  std::string quantity;  // name of a plant quantity: "outdoor", "box air", "discharge"
  double on = 0;
  double off = 0;

  friend bool operator==(const Onset&, const Onset&) = default;
};

inline constexpr double kUsualSeverity = -1e300;

struct Fault {
  std::string what;
  std::string how;
  double severity = kUsualSeverity;
  Onset onset;

  friend bool operator==(const Fault&, const Fault&) = default;
};

// Reads "WHAT: HOW[: SEVERITY]". A failure (with "did you mean") if the unit has no
// such thing, the thing no such mode, or the severity is out of the mode's range.
Result<Fault> parse_fault(const unit::Unit& unit, std::string_view text);

// The same form back; the severity only where it was given.
std::string text(const unit::Unit& unit, const Fault& fault);

// A copy of `healthy` with all of `faults` in it (their onsets are for the caller to judge: every
// fault given acts). A fault that the unit does not have is our own bug: assert.
unit::Unit with_faults(const unit::Unit& healthy, const std::vector<Fault>& faults);

}  // namespace legwork::fault
