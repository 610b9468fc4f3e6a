// How things fail: the one list of modes for everything that is not a device. (A kind of device
// lists its own modes in its row; see engine/circuit/kinds.h.)
//
//   for (const Mode& mode : modes_of(unit, "condenser")) ...   // "face dirty", "plugged inside",
//   ...
//
// Each mode is a row: what it does to the changed copy, its range, what cures it. Adding a way to
// fail is adding a row.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/quantity.h"
#include "engine/unit/unit.h"

namespace legwork::fault {

// A mode as the rest of the engine sees it, whatever kind of thing it belongs to.
struct Mode {
  std::string how;                            // "plugged inside"
  Dimension dimension = Dimension::fraction;  // of the severity
  double low = 0;                             // range of the severity, SI
  double high = 1;
  double usual = 1;
  std::vector<double> levels;   // the ones that the catalogue lists
  bool has_severity = false;    // false: the mode is all or nothing
  bool latent = false;          // nothing on a call can show it
  bool root_condition = false;  // its effect is a control doing its job
  std::vector<std::string>
      cures;  // repairs that end it, cheapest first: "wash condenser inside out"
};

// Everything on this unit that can be at fault, in order: devices, wires, plant conditions, supply.
std::vector<std::string> faultable_things(const unit::Unit& unit);

// Its modes; empty if the unit has no such thing.
std::vector<Mode> modes_of(const unit::Unit& unit, std::string_view what);

}  // namespace legwork::fault
