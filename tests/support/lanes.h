// Four worlds at once: the same solve over four networks of one pattern, side by side in memory, so
// that the machine's two-wide arithmetic and its long pipelines are kept busy. For suspects, who
// differ in a few values.
//
//   LaneFactors factors;
//   const Network* worlds[4] = {&a, &b, &c, &d};   // the same one twice, if there are fewer
//   factor(solver, worlds, factors);
//   LaneVolts volts;
//   solve(solver, worlds, factors, volts);
//   Phasor v = lane(volts[index(node)], 2);        // world c
//
// Each lane has the bits that Solver alone gives.
#pragma once

#include <span>
#include <vector>

#include "engine/circuit/solver.h"
#include "engine/circuit/wide.h"

namespace legwork::circuit {

inline constexpr int kLanes = 4;

struct Phasor4 {
  Pair re[2]{};
  Pair im[2]{};
};

inline Phasor lane(const Phasor4& p, int which) {
  return {p.re[which / 2][which % 2], p.im[which / 2][which % 2]};
}
inline void set_lane(Phasor4& p, int which, Phasor value) {
  p.re[which / 2][which % 2] = value.re;
  p.im[which / 2][which % 2] = value.im;
}

using LaneFactors = Factors<Phasor4>;    // without `assembled`: no update()
using LaneVolts = std::vector<Phasor4>;  // by node

void factor(const Solver& solver, std::span<const Network* const, kLanes> worlds,
            LaneFactors& factors);
void solve(const Solver& solver, std::span<const Network* const, kLanes> worlds,
           const LaneFactors& factors, LaneVolts& volts);

}  // namespace legwork::circuit
