// The slow solver that exists only to be right: dense Gaussian elimination with full row pivoting
// in 113-bit floats.
#pragma once

#include <vector>

#include "engine/circuit/solver.h"

namespace legwork::circuit::support {

struct Dense128 {
  explicit Dense128(const Network& network);
  Volts volts;  // of the sources
  // Impedance between two nodes, by solving for a current of 1 A.
  Phasor impedance(NodeId a, NodeId b) const;

 private:
  using Real = __float128;
  struct Complex {
    Real re = 0, im = 0;
  };
  std::vector<Complex> solve(std::vector<Complex> right) const;
  int count_ = 0;
  std::vector<Complex> lu_;
  std::vector<int> row_;
};

}  // namespace legwork::circuit::support
