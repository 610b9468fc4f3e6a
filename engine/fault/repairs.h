// Repairs: verb + object, as they are said and written down: "replace HPC", "tighten FU4.2>HPC.1",
// "wash condenser inside out", "replace FU2 clip".
//
//   auto repair = find_repair(unit, "wash condenser inside out");
//   faults = remaining(unit, faults, *repair);      // those that it does not end
//   unit::Unit now = with_faults(unit, faults);
//
// A repair ends the faults of its object that the mode's row lists it for, and gives the object its
// healthy values back. A repair of a good part costs its minutes and its money and changes nothing.
// What the simulation itself has destroyed (a fuse blown by a short that is still there, an
// overload that has tripped) is state, not fault: a replaced part also starts with a fresh state
// (see sim::World::repair), and goes the same way again if the reason is still there.
//
// Minutes are common practice, no source; money is relative (1 = a fuse).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/result.h"
#include "engine/fault/fault.h"
#include "engine/fault/modes.h"

namespace legwork::fault {

struct Repair {
  std::string verb;    // "replace", "tighten", "wash", "adjust", "close" ...
  std::string object;  // device, wire or thing of the plant
  std::string part;    // of it: "", "clip"
  std::string manner;  // "", "inside out"
  double minutes = 0;
  double cost = 0;         // of the parts
  bool power_off = false;  // must be locked out and proven dead
  bool by_owner = false;   // those who own the supply do it, with the feeder open
  bool recovery = false;   // refrigerant has to be recovered first (40 CFR 82 subpart F)
  bool replaces_part =
      false;  // a part is spent: proof is frozen here, and the device's state is fresh
  bool wets_condenser = false;  // fins stay wet a while: don't judge the head yet
  bool melts_frost = false;
  std::size_t which = 0;  // evaporator that it is done to, from 0

  std::string text() const;  // "wash condenser inside out"
};

// Text of a cure of a thing: "wash condenser inside out".
std::string repair_text(std::string_view thing, const Cure& cure);

// The same for a person: "wash condenser inside out" in the reader's words.
Message repair_words(std::string_view text);

// All that can be done to this unit, in the order of its things.
std::vector<Repair> repairs(const unit::Unit& unit);

// By text, as the trainee writes it; case and extra spaces do not count.
Result<Repair> find_repair(const unit::Unit& unit, std::string_view text);

// Does this repair end this fault?
bool cures(const unit::Unit& unit, const Repair& repair, const Fault& fault);

// The faults that stay after it.
std::vector<Fault> remaining(const unit::Unit& unit, const std::vector<Fault>& faults,
                             const Repair& repair);

}  // namespace legwork::fault
