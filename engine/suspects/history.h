#pragma once
// From a healthy machine to the one that the ticket tells of: what a suspect lives through before
// anybody comes.
//
//   const History sound = live(world_without_fault, found, longest);
//   const History h = live(world_with_fault, found, longest, &sound);
//   if (h.shows[0]) ...          // how it stood when it first showed what was found
//
// Several tickets with the same weather can be looked for at once. The world is run ahead as Glide
// runs it, with an approximate load (World::approximate): near enough to find when, and what stands
// then is within what a meter tells. A search ends at the last match, at the longest time, or when
// the machine only repeats itself: nothing new in two rounds of its clocks, and its box drifts too
// slowly to reach what was found; after one round already if what was found was never near, no trip
// was, and frost comes and goes. Who lives through a whole round as the sound machine did will go
// on as it does, and what that one never shows, neither does this. Where a clock turns with the
// machine, so that its first defrost is a day away, both are put through one before that is said,
// and the others have as long as it takes.

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "engine/fault/scenario.h"
#include "engine/sim/moment.h"
#include "engine/sim/world.h"

namespace legwork::suspects {

// Of the compressor's load (World::approximate), while looking far ahead.
inline constexpr double kFarAheadLoadShare = 0.06;

// A round of a machine's clocks, as one who watched it all would tell it.
struct BoxRound {
  double low_k = 0, high_k = 0;  // of its air
  double frost = 0, ice_kg = 0;  // at its end: share of the coil, in the drain pan
  bool cleared = false;          // a coil that had frost on it was rid of it
  double sum_k[2] = {0, 0};      // of the air over ticks, of each half
  double blowing = 0;            // ticks that its fans ran
};
struct Round {
  std::int64_t begun = 0;
  bool new_stands = false;  // a switch stood as it never had before
  double seen[2] = {0, 0};  // ticks, of each half
  std::array<BoxRound, plant::kMostEvaporators> boxes{};
  std::array<double, plant::kMostCompressors> running{};  // ticks that each compressor ran
};

// What a stretch of a life came to.
struct Lived {
  Round round;
  std::vector<std::uint8_t> stands;  // per switch: bit 0, it stood at 0; bit 1, it did not
  std::vector<double> heats;         // the most of each trip's heat: 1 trips
};

struct History {
  // Per ticket: the first moment that shows what was found, or if none ever does, the first that
  // all but shows it (no machine is quite like its sister, and its load is not exact); the
  // clocks are not yet the ticket's.
  std::vector<std::optional<sim::Moment>> shows;
  std::int64_t ticks = 0;          // run
  std::optional<Lived> first;      // round, if it came to an end
  std::optional<Lived> defrosted;  // if no clock came round in the first: a defrost after it
  bool as_sound = false;           // it was given up for living as the sound machine does
};

// `world` stands at its beginning.
History live(sim::World world, std::span<const fault::Found* const> found, std::int64_t longest,
             const History* sound = nullptr);

}  // namespace legwork::suspects
