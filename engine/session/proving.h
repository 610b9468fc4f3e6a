#pragma once
// Proving dead: which terminals a part has, what the meter reads at them, and what of it lasts.
//
//   prove dead CC              every visible terminal of CC: each pair, and each to earth
//   prove dead FU4 CC          two parts, one after the other
//   prove dead FU4.2>HPC.1     the ends of a wire that are within reach
//
// A terminal keeps a *mark* if it reads dead and is held: no supply leg reaches it through wires,
// contacts, loads and windings, whichever way they stand, without passing a handle that is open
// under the trainee's own lock (or a plug in their own hand). Capacitors that can feed the part and
// sit at the same place are discharged before DC is read across them. Dead, but not held, means
// "reads dead now" and marks nothing. Marks are lost when a lock comes off, when a handle closes,
// and when a step of one's own (a jumper past a handle) lets a supply reach them again.
//
// Lockout: 29 CFR 1910.147(d); verification: 29 CFR 1910.333(b)(2)(iv), NFPA 70E-2024 120.5. From
// memory; the site's own procedure comes first.

#include <string>
#include <string_view>
#include <vector>

#include "engine/session/attempt.h"
#include "engine/session/verbs.h"

namespace legwork::session {

// V. A reading below it is dead; 5 V is above what the meter picks up on a conductor that is fed by
// nothing, and below any control circuit's supply (common practice, no source).
inline constexpr double kDeadVolts = 5;
// Parts in one step.
inline constexpr std::size_t kMostProven = 8;

// Puts the parts of "prove dead" right: devices, terminals, or wires (which become their terminals
// within reach). A sentence if one of them is unknown; "" = fine.
Message resolve_proving(const Attempt& attempt, std::string& parts);
// Why it cannot be done here; "" = it can.
Message refuse_proving(const Attempt& attempt, const std::string& parts);
double minutes_of_proving(const std::string& parts);
// Every terminal that the leads will be on.
std::vector<circuit::TerminalId> proving_terminals(const circuit::Circuit& wiring,
                                                   const std::string& parts);

// volts, and lowz where volts were there. If all is dead: the capacitors that can feed the parts
// are discharged through a resistor, and dc is read across them. Then volts to earth of what stands
// beside the parts and is fed as the handles stand.
void read_proving(Site& site, const std::string& parts, Seen& seen);
// Judges the readings: marks in the book, proofs and sentences in the outcome. An outcome without
// readings (a step that is only planned) is taken as dead.
void book_proving(Attempt& attempt, const std::string& parts, Outcome& outcome);

// After every step: drops the marks that nothing holds any more.
void keep_marks(Attempt& attempt);
bool is_marked_dead(const Attempt& attempt, circuit::TerminalId terminal);

}  // namespace legwork::session
