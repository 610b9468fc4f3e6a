#pragma once
// Controls proven one by one, as at a start-up: each control, overload and fuse of a unit is held
// at rest and then operated, in a copy of the wiring, and what runs in the one case and stops in
// the other is written down. Pressures and temperatures stand still meanwhile: it is the wiring
// that is asked, not the refrigeration.
//
//   const std::vector<Proof> proofs = prove_controls(worlds);   // cooling, satisfied, defrost
//   proofs[i].stops[load.slot()]     // operating it stops that load, in one of those moments
//
// A Proof without `matters` is a control that does nothing.

#include <cstdint>
#include <vector>

#include "engine/sim/world.h"

namespace legwork::commission {

struct Proof {
  circuit::ActuatorId actuator;
  std::vector<std::int8_t> stops, starts;  // by LoadId: once it is operated (risen, tripped, blown)
  std::vector<std::int8_t> moved;          // by ActuatorId: what else moved on the way
  std::vector<double> most_volts;          // by rated_pairs (day.h)
  bool matters = false;                    // some load took other watts
};

// In each of the moments, and once more with all other controls held made.
// One for each control that follows a pressure or a temperature, each overload, breaker and fuse.
std::vector<Proof> prove_controls(const std::vector<sim::World>& moments);

}  // namespace legwork::commission
