// Findings about a circuit that was read without mistakes of spelling: is it a sensible unit?
//
//   check(circuit, diagnostics);    // adds errors and warnings, located, each with its mend
//
// Errors: a short from leg to leg or leg to earth with every switch closed; a terminal that nothing
// leads to on one side of a part (dangling end). Warnings: a load without a fuse or breaker ahead
// of it, a coil on the wrong voltage, a contact that is in no rung, names that are too much alike,
// a field wire too small for its fuse (NEC 240.4(D): 15 A on #14, 20 A on #12, 30 A on #10; others
// table 310.16 at 60 C).
#pragma once

#include "engine/base/diagnostics.h"
#include "engine/circuit/circuit.h"

namespace legwork::circuit {

void check(const Circuit& circuit, Diagnostics& diagnostics);

}  // namespace legwork::circuit
