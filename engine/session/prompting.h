#pragma once
// What to say to a line that names nothing there is, or stops before it names anything: the names
// that would do.
//
//   device_hint(unit, "roof", "contacter")  // "of that kind there are: CC"
//   device_hint(unit, "roof", "xyz")        // "here are: DISC, FU1, …; the legend has them all"
//   how_it_goes_on(attempt, "look")         // "expected: look THING …. Here: condenser, CC, …."

#include <string_view>

#include "engine/session/attempt.h"

namespace legwork::session {

// For with_hint (base/suggest.h), after "unknown part 'xyz'". By spelling; by what the parts are
// and what they drive ("compressor", "condenser fan"); else those of the place.
Message device_hint(const unit::Unit& unit, std::string_view place, std::string_view name);
// By spelling; of a part that is named without its terminal, all of its terminals.
Message terminal_hint(const Attempt& attempt, std::string_view name);
// By spelling; of a part or terminal that is named instead, the wires that end there.
Message wire_hint(const Attempt& attempt, std::string_view name);
// Of repairs that begin with the same word: by spelling, by what the parts are, else what can be
// done so here.
Message repair_hint(const Attempt& attempt, std::string_view line);

// A line that begins as a step does and stops: its usage, and what there is for it here. Empty: it
// is no such beginning.
Message how_it_goes_on(const Attempt& attempt, std::string_view line);

}  // namespace legwork::session
