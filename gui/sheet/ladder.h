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

// `columns`: sections are stacked into so many columns of about equal height (1 to 4).
Scene ladder(const unit::Unit& unit, int columns = 3);

// Conductor numbers: terminals joined by wires alone share one. Index = terminal; 0 = no wire.
std::vector<int> conductor_numbers(const circuit::Circuit& circuit);

}  // namespace legwork::gui
