// Worlds for sweeps: every shipped unit, in every state that it can be brought to, whole and with
// each fault of its catalogue for some minutes. A seeded sample ordinarily, all of it with
// LEGWORK_ALL.
//
//   for_each_swept(12, [&](const Swept& s) { ... s.world ... s.name ... });
#pragma once

#include <functional>
#include <string>

#include "engine/sim/world.h"

namespace legwork::support {

struct Swept {
  std::string name;  // "wf-208, cooling, CC: coil open"
  unit::UnitPtr unit;
  sim::World world;
  sim::World whole;    // before the fault
  fault::Fault fault;  // nothing, if it is whole
};

// `sample`: faults and states of a unit, in all; each unit's whole states come besides.
void for_each_swept(std::size_t sample, std::uint64_t seed,
                    const std::function<void(const Swept&)>& act);

}  // namespace legwork::support
