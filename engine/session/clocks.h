#pragma once
// Clocks of the day that the trainee's own hands have put off: whoever opens a disconnect, pulls a
// fuse or lifts a wire ahead of one has to set its dial before they leave. All from the diagram and
// the trainee's own steps, never from what is wrong with the machine: a clock whose motor is dead
// is spoken of like a sound one.
//
//   const ClocksFed before = clocks_fed(attempt);
//   act(attempt.site, act);
//   tell_clocks(attempt, before, outcome);     // "DCK has no supply now and stands still. …"

#include <vector>

#include "engine/session/attempt.h"

namespace legwork::session {

// Minutes. A clock that is off by more is left undone; common practice, no source.
inline constexpr double kClockMattersMinutes = 20;

// One flag a clock (circuit::Circuit::clocks): has its motor a supply as handles, plugs, fuses and
// wires stand, every other contact counted as closed?
using ClocksFed = std::vector<char>;
ClocksFed clocks_fed(const Attempt& attempt);

// Says which clocks have stopped since `before` and which have supply again, and keeps both in the
// trainee's book.
void tell_clocks(Attempt& attempt, const ClocksFed& before, Outcome& outcome);
// The dial of that clock was set: nothing to be told any more, if it runs.
void clock_was_set(Attempt& attempt, const std::string& clock);
// At leaving `place`, or the site ("": all places): the clocks that were put off for longer than
// matters and have not been set since, or are off still. Empty: none.
Message clocks_to_set(const Attempt& attempt, std::string_view place);

}  // namespace legwork::session
