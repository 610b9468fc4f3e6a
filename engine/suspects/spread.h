#pragma once
// How far a reading may lie from a suspect's world without anybody knowing why: what the trainee
// cannot know about the plant. To first order, and added to the meter's own error (joint_spread).
//
//   supply within its band, volts drop of leads       volts, low impedance volts
//   tolerance of coils, heaters, windings             ohms, continuity, amps
//   tolerance of capacitors (6 %)                     microfarads
//   stray coupling                                    volts behind a high impedance: ghosts
//   charge, outdoor reading, air flow, wear           gauges, temperatures
//   when a machine that starts and stops did so last  housing, discharge line
//
// One row a verb (tests/suspects/spread_test.cpp holds the rows against worlds whose unknowns are
// moved); the start winding of a single-phase motor that turns has one of its own, for its volts
// are induced and go up by more than the supply's. The numbers are from the same bands that
// scenarios may draw from, never from the call at hand. Common practice, no source, unless a row
// says otherwise.

#include <string_view>
#include <vector>

#include "engine/circuit/phasor.h"
#include "engine/session/seen.h"
#include "engine/session/site.h"
#include "engine/suspects/eyes.h"

namespace legwork::suspects {

struct SpreadRow {
  std::string_view verb;  // first word of the key
  double relative = 0;    // of the predicted value
  double absolute = 0;    // SI
};
const SpreadRow& spread_row(std::string_view key);

// One standard deviation of what this site would show under `predicted.key`:
// the coarser of meter and machine together, and of what a technician tells
// apart (eyes.h).
double spread_of(const session::Observation& predicted, const session::Site& site,
                 const Eyes& eyes);
// The same of what the unknowns and the meter make of it, and a distance at
// which one would doubt.
double coarser(double spread, double half_width);
inline constexpr double kTellsNothingSpread = 1e12;

// Volts at the start winding of a motor that turns: what is joined to it, in this site's state.
std::vector<circuit::Phasor> induced_volts(const session::Site& site);
bool is_induced(const circuit::Phasor& volts, const std::vector<circuit::Phasor>& induced);
inline constexpr SpreadRow kInducedRow{"volts", 0.023, 0.3};

// A pair of terminals behind more than this is a ghost: stray coupling sets its
// volts, to anything but full volts.
inline constexpr double kGhostOhms = 200e3;
double ghost_spread(const Eyes& eyes, circuit::TerminalId a, circuit::TerminalId b, double volts);

}  // namespace legwork::suspects
