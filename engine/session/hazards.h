#pragma once
// Hazards: dangerous or slipshod ways of working, each a row that looks at the state of the machine
// and the book at that moment, never at a script. The same work done safely does not match.
//
//   for (const HazardRow& row : hazard_rows()) ...      // id, harm, reference
//
// Rows before the act look at what is about to be touched; rows after it at what came of it. Where
// a row sets `covers`, a later row of that group is not reported for the same step: hands on
// terminal N of a clock are told as that, and not as a live panel besides.
//
// References are cited, not quoted, and from memory. "common practice" is a row without a source. A
// rule of law is named only where it forbids the very thing: none is named for adding charge to a
// leak, since duties to repair one begin at more charge than our machines hold. Legwork is a
// trainer: local codes, the site's procedure and licensed practice come first.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/session/attempt.h"
#include "engine/session/verbs.h"

namespace legwork::session {

inline constexpr double kShockVolts = 50;  // 29 CFR 1910.303(g)(2)(i): guarded from 50 V up
inline constexpr double kOverPressurePsig =
    450;  // on R-404A and its like; common practice, no source
inline constexpr double kHeldTooLongMinutes = 1;

struct Situation {
  const Attempt& attempt;  // before the act, or after it
  const Verb& verb;
  const Line& line;
  const Touched& touched;
};

struct HazardRow {
  std::string_view id;
  Harm harm = Harm::caution;
  bool after = false;
  std::string_view covers;  // group: the first row of a group that matches is the one told
  std::string_view reference;
  // Why, in a plain sentence; "" = no hazard. May change the harm.
  Message (*found)(const Situation&, Harm& harm);
};

std::span<const HazardRow> hazard_rows();
std::vector<Hazard> hazards_of(const Situation& situation, bool after);

// --- questions of state that the rows ask (tested by themselves) ---

// Terminals that would be live if every handle that is not under the trainee's own lock were
// closed, every contact made, every fuse whole and every lifted wire landed (feeding.h): what a
// lockout must take away.
std::vector<char> could_be_live(const Attempt& attempt);
// A contact that guards the machine: an overload or protector, or a control that opens on rise and
// has no other throw, or one that latches. Operating controls (suction, box) are none.
bool is_safety(const circuit::Circuit& wiring, circuit::ElementId element);
// Safeties that stand open now, by device name.
std::vector<std::string> open_safeties(const Attempt& attempt);
// Safeties that a jumper between two terminals would bridge.
std::vector<std::string> bridged_safeties(const circuit::Circuit& wiring, circuit::TerminalId a,
                                          circuit::TerminalId b);

// What stands otherwise than it should when one leaves, and is no danger: gauges on, a wire off, a
// set point moved, a clock that lost its time, the door propped. Each a piece of a sentence.
std::vector<Message> left_undone(const Attempt& attempt);

}  // namespace legwork::session
