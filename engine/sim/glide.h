// Looking far ahead at a tenth of the price: as long as nothing switches, the plant is carried on
// by up to a minute at once, and then a tick is run as ever, which senses, settles and drives.
//
//   Glide glide(world);
//   while (world.tick() < end) {
//     const std::int64_t skipped = glide.stride();  // a leap and a tick, or a second of ticks;
//     if (skipped > 0) lookout.skip(skipped);       // or rounds of a cycle that were left out
//   }
//
// A leap moves the plant along d(state)/dt = (one tick's change) / (one tick), by a stabilised
// explicit method: stable for whatever the ticks themselves damp, and of second order for what is
// slow. Its length is set by its own error estimate (kTolerances in glide.cpp: below what a meter
// tells), and it ends before any set point, pin or delay is due. Where a machine comes to rest is
// where the ticks bring it, for there the change of a tick is zero. Where a leap is too bold, the
// plant alone is stepped for some ticks. It is for searches and for suspects, never for the site
// that a trainee works on.
//
// A machine that cycles, each time as the time before, is carried on by whole cycles: what is slow
// (box, goods, frost, heat of overloads) moves by as much in each, the rest stands again as it did.
//
// Formula: Sommeijer, Shampine, Verwer, "RKC: an explicit solver for parabolic PDEs", J. Comput.
// Appl. Math. 88 (1998): coefficients of section 2, error estimate of section 3
// (paper and coefficients from memory; glide_test.cpp holds the result against the ticks). Its
// spectral radius is one per tick, since a tick never overshoots by more than kOvershoot.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "engine/sim/world.h"

namespace legwork::sim {

class Glide {
 public:
  // `world` outlives this, and nobody else runs it meanwhile.
  explicit Glide(World& world);
  // Ticks that were left out, of whole cycles.
  std::int64_t stride();
  // To this tick and no further, without leaving out cycles.
  void to(std::int64_t tick);
  // No longer leaps than this: where somebody wants to look more often.
  void no_longer_than(std::int64_t ticks) { wanted_ = ticks; }

  static constexpr std::size_t kRows = 25;  // what a leap moves: rows of kTolerances

 private:
  using Rows = std::array<double, kRows>;

  // One of a machine's starts, and how it stood then.
  struct Start {
    std::int64_t tick = 0;
    plant::State plant;
    circuit::State circuit;
    std::vector<double> hottest;  // of each heat, since the start before
  };

  bool turns() const;
  std::int64_t skip_cycles();
  std::int64_t cycles_alike(const Start& first, const Start& middle, const Start& last) const;
  bool goes_ahead();
  std::int64_t leap();  // ticks; 0: none
  std::int64_t hop();   // the same, the plant tick by tick and the circuit at its end
  // The share of a leap or hop that may be taken; 1: all of it.
  double share_allowed(const plant::Outputs& then, const plant::State& there);
  Rows change(const Rows& at, plant::Outputs* out) const;
  // False: on the way it came to where no machine stands.
  bool carry(const Rows& from, const Rows& change, std::int64_t ticks, Rows& there) const;
  double share_before_a_set_point(const plant::Outputs& then, const plant::State& there);
  std::int64_t before_a_pin(std::int64_t ticks) const;
  std::int64_t before_anything_is_due(std::int64_t ticks) const;
  void look();

  World& world_;
  std::int64_t most_;  // shorter, or none, where faults come and go
  std::int64_t wanted_ = INT64_MAX;
  std::int64_t ends_ = INT64_MAX;  // nothing is run beyond
  std::int64_t next_ = 0;          // how long the next leap may be by its errors
  bool even_ = false;              // nothing has moved for a second
  std::int64_t looked_at_ = 0;
  std::vector<std::int8_t> position_;  // at that look, as are these
  std::vector<double> speed_, heat_;
  std::vector<double> pace_;  // of heat, per tick, over the last stride
  bool turned_ = false;       // the compressor
  std::vector<Start> starts_;
  std::vector<double> hottest_;
  std::vector<double> then_;  // senses at the end of a leap
};

}  // namespace legwork::sim
