// Circuits that nobody would wire: devices of the shipped units, their figures shaken, joined at
// random between the legs of a random supply; and random damage to them.
//
//   Random random(7);
//   std::optional<Circuit> circuit = random_circuit(random);   // nothing: the check refused it
//   std::string broken = break_something(*circuit, random);    // "D3: coil open"
#pragma once

#include <optional>
#include <string>

#include "engine/base/random.h"
#include "engine/circuit/circuit.h"

namespace legwork::test {

// One attempt. What it returns has passed `check` without an error.
std::optional<circuit::Circuit> random_circuit(Random& random);

// A failure of a device or wire, of the supply, or of a bare figure; what it was.
std::string break_something(circuit::Circuit& circuit, Random& random);

}  // namespace legwork::test
