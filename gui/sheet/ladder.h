#pragma once
// The diagram on the door, laid out from the rungs alone: North American ladder form. The legs run
// down from the supply through what protects and switches them to the loads of three leads; beside
// or under them the control rungs between two rails. Lines are numbered at the left, one number a
// conductor, coils list the lines of their contacts and contacts say the line of their coil. No
// coordinates come from the unit file.
//
//   Scene door = ladder(unit, {.shape = 1.3, .speech = speech});
//
// A terminal has one home: the port of its symbol, or, for a strip, where the legs or the first
// rail meet it. Every other appearance is a reference (Terminal::home = false). A wire's id is its
// conductor's name ("FU4.2>HPC.1"); a rail's id is the terminal it spreads ("TB.L1").

#include <string>
#include <vector>

#include "engine/base/message.h"
#include "engine/circuit/numbers.h"
#include "engine/unit/unit.h"
#include "gui/sheet/scene.h"

namespace legwork::gui {

struct LadderOptions {
  // Rungs go into as many columns as show the sheet largest in an area `shape` times as wide as it
  // is high.
  double shape = 1.3;
  // Sheet units that are seen across where the writing can be read; 0: no matter. A sheet that
  // cannot be read whole then becomes as narrow as that, both rails in sight, and goes on downward.
  int across = 0;
  Speech speech;            // of headings and legend
  bool with_legend = true;  // the symbols on this sheet with their names
};

Scene ladder(const unit::Unit& unit, const LadderOptions& options = {});

using circuit::conductor_numbers;

}  // namespace legwork::gui
