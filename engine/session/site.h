#pragma once
// The site: the physical side of a call. A World, the instruments hooked to it, and what hands have
// changed. It holds no bookkeeping about the trainee (where they stand, whose lock, what it cost),
// so a suspect is just another Site given the same Acts.
//
//   Site site{sim::World(...)};                                            // on arrival
//   Seen seen = act(site, {{"volts", {"CC.A1", "CC.A2"}}, 480, "roof"});   // two minutes on: a
//   reading
//
// Time: an act lasts whole ticks. A reading or a look is the one at its last tick. What changes the
// machine does so kActsBeforeEnd ticks before the end, so that what it sets off at once is seen.

#include <cstdint>
#include <string>
#include <vector>

#include "engine/session/seen.h"
#include "engine/session/step.h"
#include "engine/sim/world.h"

namespace legwork::session {

inline constexpr std::int64_t kTicksPerMinute = 240;
inline constexpr std::int64_t kActsBeforeEnd = 8;

// A step that was allowed, with what it cost. The sequence of these is all that a suspect is given.
struct Act {
  Step step;
  std::int64_t ticks = 0;
  std::string place;  // where the trainee stood: what can be heard
};

struct Site {
  sim::World world;
  bool gauges_on = false;
};

// Advances the world by the act's ticks and returns what is seen. The step's names must be those of
// the unit (submit() sees to it); a name that is not there is our own bug.
Seen act(Site& site, const Act& act);

}  // namespace legwork::session
