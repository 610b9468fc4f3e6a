#pragma once
// Conductor numbers, as on a diagram's sleeves: terminals joined by wires alone share one. They run
// in the order of the rungs.

#include <vector>

#include "engine/circuit/circuit.h"

namespace legwork::circuit {

// Index = terminal; 0 = no wire.
std::vector<int> conductor_numbers(const Circuit& circuit);

}  // namespace legwork::circuit
