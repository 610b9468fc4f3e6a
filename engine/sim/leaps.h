#pragma once
// The plant carried on by up to four minutes at once, as long as nothing switches.
//
//   Leaps leaps(world);
//   const std::int64_t ticks = leaps.take(longest, compressor_turns);   // 0: run a tick as ever
//
// A leap moves the plant along d(state)/dt = (one tick's change) / (one tick), by a stabilised
// explicit method: stable for whatever the ticks themselves damp, and of second order for what is
// slow. Its length is set by its own error estimate (tolerances.h), and it ends before any set
// point, pin or delay is due. Where a machine comes to rest is where the ticks bring it, for there
// the change of a tick is zero. Where a leap is too bold, the plant alone is stepped for some
// ticks.
//
// Formula: Sommeijer, Shampine, Verwer, "RKC: an explicit solver for parabolic PDEs", J. Comput.
// Appl. Math. 88 (1998): coefficients of section 2, error estimate of section 3 (paper and
// coefficients from memory; glide_test.cpp holds the result against the ticks). Its spectral radius
// is one per tick, since a tick never overshoots by more than kOvershoot.

#include <array>
#include <cstdint>
#include <iterator>
#include <vector>

#include "engine/sim/tolerances.h"
#include "engine/sim/world.h"

namespace legwork::sim {

class Leaps {
 public:
  explicit Leaps(World& world);
  // Carries the plant on by no more than `longest` ticks and says by how many; 0: not at all.
  std::int64_t take(std::int64_t longest, bool compressor_turns);
  // Something moved: begin with a short one.
  void begin_short();
  // How heats of motors and overloads changed, by the tick, over the ticks just run.
  void follow_heat(const std::vector<double>& before, std::int64_t ticks);
  // Are there any at all? Not where a fault comes and goes at moments of its own.
  bool allowed() const { return most_ > 0; }

 private:
  using Rows = std::array<double, kMostTolerances>;  // as many as tolerances_

  std::int64_t leap(std::int64_t longest);
  std::int64_t step_plant_alone(std::int64_t longest);  // the circuit is looked at when it is over
  // The share of what was tried that may be taken; 1: all of it.
  double share_allowed(const plant::Outputs& then, const plant::State& there);
  double share_before_a_set_point(const plant::Outputs& then, const plant::State& there);
  Rows change(const Rows& at, plant::Outputs* out) const;  // of one tick
  // False: on the way it came to where no machine stands.
  bool carry(const Rows& from, const Rows& change, std::int64_t ticks, Rows& there) const;
  std::int64_t before_anything_is_due(std::int64_t ticks) const;

  Rows rows_of(const plant::State& plant) const;
  plant::State with(plant::State plant, const Rows& rows) const;
  bool sane(const Rows& rows) const;

  World& world_;
  std::vector<Tolerance> tolerances_;
  // Of each of them: its place among the numbers of a state, and what the refrigerant's tables and
  // the balances are made for, both ends out.
  struct Row {
    std::size_t at;
    double above, below;
  };
  std::vector<Row> rows_;
  std::int64_t most_;         // ticks; shorter, or none, where faults come and go
  std::int64_t next_ = 0;     // how long the next leap may be by its errors
  bool turns_ = false;        // the compressor
  std::vector<double> pace_;  // of heat, per tick
  std::vector<double> then_;  // senses at the end of a leap
};

// As many of these ticks as pass before a pin of a clock comes round.
std::int64_t before_a_pin(const World& world, std::int64_t ticks);

}  // namespace legwork::sim
