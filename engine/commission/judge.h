#pragma once
// What is wrong with a unit file that loads: findings with the line to mend, and how.
//
//   Diagnostics found;
//   judge_wiring(*unit, found);            // from the file alone, at once
//   judge_trial(*unit, trial, found);      // from three lived days and proven controls (trial.h)
//
// Limits that no standard gives are common practice, and say so where they stand. Sources of the
// others: NEC (NFPA 70) 430.32(A)(1) and 440.52(A)(1) for overloads, IEC 60947-4-1 for the range of
// a coil, NEMA MG 1 part 12 for that of a motor; all three from memory.

#include "engine/base/diagnostics.h"
#include "engine/commission/trial.h"

namespace legwork::commission {

void judge_wiring(const unit::Unit& unit, Diagnostics& found);
void judge_trial(const unit::Unit& unit, const Trial& trial, Diagnostics& found);

}  // namespace legwork::commission
