#pragma once
// What copper is good for.
//
//   ampacity(3.3e-6);   // 20 A: #12
//
// NEC 240.4(D) for the small sizes, table 310.16 at 60 C above them; both from memory.

namespace legwork::circuit {

// Amps of the largest fuse that a wire of this size (m2 of copper) may be put behind.
double ampacity(double copper_m2);

}  // namespace legwork::circuit
