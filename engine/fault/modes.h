// How things fail: one list for everything on a unit. A device's modes are those of its kind
// (engine/circuit/kinds.h), a wire's those of wires; to these come the modes of plant, charge, box
// and supply, whose table is in plant_modes.cpp and supply_modes.cpp. Adding a way to fail is
// adding a row.
//
//   for (const Mode& mode : modes_of(unit, "condenser")) ...   // "face dirty", "plugged inside",
//   ...
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/quantity.h"
#include "engine/circuit/condemn.h"
#include "engine/unit/unit.h"

namespace legwork::fault {

// How bad.
struct Level {
  double severity = 1;
  std::string words;  // "2 ohm", "half"; may be empty
};

// What ends a fault: "replace", "wash" + "inside out". The object is the thing at fault.
struct Cure {
  std::string verb;
  std::string manner;
  std::string part;  // of the thing: "clip"; empty: all of it
  double minutes = 15;
  double cost = 0;
  bool power_off = true;
  bool recovery = false;
  std::string object = {};  // what it is done to; empty: the thing at fault itself
  // Done by those who own the supply, who make it dead at its source: ahead of every handle here.
  bool by_owner = false;
};

// A mode as the rest of the engine sees it, whatever kind of thing it belongs to.
struct Mode {
  std::string how;                            // "plugged inside"
  std::string prior;                          // key in assets/priors.yaml
  std::vector<Level> levels;                  // ascending; at least one. One alone: all or nothing
  double usual = 1;                           // severity when none is given
  Dimension dimension = Dimension::fraction;  // of the severity
  bool latent = false;                        // nothing on a call can show it
  bool condition =
      false;  // of the machine, supply or people: its effect is a control doing its job
  bool per_conduit = false;                    // one for a whole run of wires is enough
  std::vector<Cure> cures;                     // cheapest first
  std::vector<circuit::Condemn> condemned_by;  // the test that proves it (circuit/condemn.h)
  std::function<void(unit::Unit&, double severity)> apply;

  double low() const { return levels.front().severity; }
  double high() const { return levels.back().severity; }
};

// Everything on this unit that can be at fault, in order: devices, wires, plant, supply.
std::vector<std::string> things(const unit::Unit& unit);

// Ahead of every handle here, so that nobody at the unit can make it dead: the feeder's wires, and
// the handle that they end at, whose line side they are.
bool ahead_of_handles(const unit::Unit& unit, std::string_view what);
void leave_to_owner(Cure& cure);  // that one would need it dead for

// Its modes, cheapest way to list them; empty if the unit has no such thing. What the plant knows
// of a device (valves of the compressor) is among that device's modes.
std::vector<Mode> modes_of(const unit::Unit& unit, std::string_view what);

// The name under which the unit has it: "compressor" is CM, a wire may be written either way round.
// Empty: no such thing.
std::string proper_name(const unit::Unit& unit, std::string_view what);

}  // namespace legwork::fault
