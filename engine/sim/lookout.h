// Watches a world that runs for what a ticket says was found.
//
//   Lookout lookout(scenario.found);
//   world.run(kLookEvery);
//   if (lookout.look(world)) ...         // all of it holds at once: this is the arrival
//
// Asked every kLookEvery ticks, in order: whether a compressor runs, is off or cycles is a matter
// of the last minutes, as someone who watches it would say.
#pragma once

#include <array>
#include <cstdint>

#include "engine/fault/scenario.h"
#include "engine/sim/world.h"

namespace legwork::sim {

// Ticks from look to look: whoever watches a machine does not see less than a second.
inline constexpr std::int64_t kLookEvery = kTicksPerSecond;

// Fraction of a band's width. A machine that misses what the ticket says by no more "all but shows"
// it.
inline constexpr double kLatitude = 0.25;

class Lookout {
 public:
  explicit Lookout(const fault::Found& found) : found_(found) {}
  bool look(const World& world);
  // So many ticks of a cycle were left out.
  void skip(std::int64_t ticks);
  // At the last look, all of it held but perhaps the box.
  bool but_for_box() const { return but_for_box_; }
  // At the last look, all of it held or was within `kLatitude` of holding: bands wider by that
  // share, and the times of running, standing and cycling in favour of it by as much.
  bool nearly() const { return nearly_; }

 private:
  // Starts and stops of one compressor, or of any.
  struct Watch {
    bool runs = false;
    std::int64_t changed = 0;
    std::int64_t last_start = -1;
    std::int64_t before_last_start = -1;

    void see(std::int64_t tick, bool runs_now);
    bool shows(fault::Running wanted, std::int64_t tick, double latitude) const;
  };

  fault::Found found_;
  bool but_for_box_ = false;
  bool nearly_ = false;
  Watch any_;
  std::array<Watch, plant::kMostCompressors> each_;  // seen only if asked for
};

// The surroundings that a ticket tells of, at the start of the search.
Surroundings surroundings_of(const fault::Ticket& ticket);

}  // namespace legwork::sim
