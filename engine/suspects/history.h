#pragma once
// From a healthy machine to the one that the ticket tells of: what a suspect lives through before
// anybody comes, and who else has lived through the same.
//
//   History sound = live(world, scenario.found, longest, true);
//   Departure d = departs(world_with_fault, sound);
//   if (d.follows()) ...          // the fault has made no difference so far: sound.arrival is its
//   own
//
// Several tickets with the same weather can be looked for at once. A search ends at the last match,
// at the longest time, or when the machine only repeats itself: nothing new in two rounds of its
// clocks, and its box drifts too slowly to reach what was found.
//
// Most faults differ from another machine in little or nothing for most of the time: a heater that
// is open before the first defrost, any of ten devices that keeps the same contactor out. So one
// history is kept with its situations (each way of standing that it met, and what senses were
// largest and smallest), and another suspect is put into each of them for a second. If it does the
// same every time, within what nobody could read, the history is its own as well.

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "engine/fault/scenario.h"
#include "engine/sim/moment.h"
#include "engine/sim/world.h"

namespace legwork::suspects {

struct Situation {
  sim::Moment at;
  sim::Moment next;  // a second later, with the faults of the one whose history it is
};

struct History {
  // Per ticket: the first moment that shows what was found; the clocks are not yet the ticket's.
  std::vector<std::optional<sim::Moment>> shows;
  std::int64_t ticks = 0;  // run
  sim::Moment start;
  std::vector<Situation> situations;  // if they were to be kept
};

// `world` stands at its beginning. It is run with an eased load (World::ease): near enough to find
// when, and what stands then is within what a meter tells.
History live(sim::World world, std::span<const fault::Found* const> found, std::int64_t longest,
             bool keep_situations);

// Where another goes its own way: situations.size() = nowhere. `did` tells what it did there, so
// that those of a kind can be found.
struct Departure {
  static constexpr int kNowhere = -1;
  int at = kNowhere;
  std::uint64_t did = 0;
  bool follows() const { return at == kNowhere; }
  bool operator==(const Departure&) const = default;
};
// `world` stands at its beginning; it is put into one situation after the other.
Departure departs(sim::World world, const History& history);

}  // namespace legwork::suspects
