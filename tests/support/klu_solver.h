// KLU (SuiteSparse) on the same equations, as an oracle and as the yardstick for speed: the
// general-purpose solver for circuit matrices.
#pragma once

#include <memory>

#include "engine/circuit/network.h"
#include "engine/circuit/solver.h"

namespace legwork::circuit::support {

class KluSolver {
 public:
  explicit KluSolver(const Network& network);  // pattern, analysis and first factorisation
  ~KluSolver();
  KluSolver(const KluSolver&) = delete;
  KluSolver& operator=(const KluSolver&) = delete;
  // New numbers in the same pattern: assembly, refactorisation and solution.
  void refactor_and_solve(const Network& network, Volts& volts);

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

}  // namespace legwork::circuit::support
