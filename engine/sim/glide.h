// Looking far ahead at a tenth of the price: as long as nothing switches, the plant is carried on
// by up to four minutes at once, and then a tick is run as ever, which senses, settles and drives.
//
//   Glide glide(world);
//   while (world.tick() < end) {
//     const std::int64_t skipped = glide.stride();  // a leap and a tick, or a second of ticks;
//     if (skipped > 0) lookout.skip(skipped);       // or rounds of a cycle that were left out
//   }
//
// Leaps are told in leaps.h, cycles that are left out in cycles.h. It is for searches and for
// suspects, never for the site that a trainee works on.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/sim/cycles.h"
#include "engine/sim/leaps.h"
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
  void no_longer_than(std::int64_t ticks) { longest_ = ticks; }

 private:
  bool turns() const;
  void remember();

  World& world_;
  Leaps leaps_;
  Cycles cycles_;
  std::int64_t longest_ = INT64_MAX;  // ticks of a leap
  std::int64_t ends_ = INT64_MAX;     // nothing is run beyond
  bool even_ = false;                 // nothing has moved for a second
  bool turned_ = false;               // the compressor
  std::int64_t remembered_at_ = 0;    // tick of what follows
  std::vector<std::int8_t> position_;
  std::vector<double> speed_, heat_;
};

}  // namespace legwork::sim
