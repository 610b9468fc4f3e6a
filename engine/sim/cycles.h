#pragma once
// Whole cycles left out: a machine that cycles, each time as the time before, is carried on by
// several of them at once. What is slow (box, goods, frost, heat of overloads) moves by as much in
// each, the rest stands again as it did.
//
//   Cycles cycles(world);
//   cycles.follow_heat();                            // whenever some ticks were run
//   const std::int64_t left_out = cycles.start();    // at a start of the compressor; 0: none

#include <cstdint>
#include <vector>

#include "engine/sim/tolerances.h"
#include "engine/sim/world.h"

namespace legwork::sim {

class Cycles {
 public:
  explicit Cycles(World& world) : world_(world), tolerances_(tolerances_of(world.unit().plant)) {}
  void follow_heat();
  // Ticks that the world was carried on by; 0: its cycles are not alike yet.
  std::int64_t start();

 private:
  // One of a machine's starts, and how it stood then.
  struct Start {
    std::int64_t tick = 0;
    plant::State plant;
    circuit::State circuit;
    std::vector<double> hottest;  // of each heat, since the start before
  };

  // How many times the stretch from `middle` to `last` may be left out.
  std::int64_t times_alike(const Start& first, const Start& middle, const Start& last) const;

  World& world_;
  std::vector<Tolerance> tolerances_;
  std::vector<Start> starts_;
  std::vector<double> hottest_;  // of each heat, since the last start
};

}  // namespace legwork::sim
