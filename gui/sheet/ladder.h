#pragma once
// The diagram on the door, laid out from the rungs alone: North American ladder form, rungs
// numbered at the left, one number a conductor, power heavier than control. No coordinates come
// from the unit file.
//
//   Scene door = ladder(unit);      // draw.h shows it, svg.h writes it
//
// A terminal has one home: the port of its symbol, or, for a strip, the top of the first rail that
// carries it. Every other appearance is a reference (Terminal::home = false). A wire's id is its
// conductor's name ("FU4.2>HPC.1"); a rail's id is the terminal it spreads ("TB.L1").

#include <string>
#include <vector>

#include "engine/unit/unit.h"
#include "gui/sheet/scene.h"

namespace legwork::gui {

// Sections are stacked into columns, as many as show it largest in an area `shape` times as wide
// as it is high.
Scene ladder(const unit::Unit& unit, double shape = 1.3);

// Conductor numbers: terminals joined by wires alone share one. Index = terminal; 0 = no wire.
std::vector<int> conductor_numbers(const circuit::Circuit& circuit);

}  // namespace legwork::gui
