#pragma once
// What one cannot help seeing where one stands: a carrier in or out, whether a fan turns (not which
// way), handles, displays and what they say, ice, the door. Kinds and unit files say which looks a
// glance shows (unit::Unit::glances). Free, never mistaken, nothing drawn from the random numbers
// of the looks; an observation when it shows something else than the last glance did.
//
//   Eyes eyes{"roof", true};                 // on the roof, its cover off
//   glance(site, eyes, seen);                // at the end of a step: what has changed
//   glance_again(site, {3, 7}, seen);        // a suspect: the same glances, whatever they show

#include <vector>

#include "engine/session/site.h"

namespace legwork::session {

// How far a suspect's glance may differ: what stands at a threshold is met a tick sooner or later.
// Less than what strikes a suspect (suspects/likelihood.h, kRuledOut): what is plain to see
// decides.
inline constexpr double kGlanceDoubt = 0.005;

void glance(Site& site, const Eyes& eyes, Seen& seen);
void glance_again(Site& site, const std::vector<int>& glances, Seen& seen);
// Indices of unit.glances that can be seen.
std::vector<int> glances_from(const unit::Unit& unit, const Eyes& eyes);
// Of those observations: which glances were told.
std::vector<int> glances_told(const unit::Unit& unit, const Seen& seen);
// What a display shows, K; nothing if it is dark or shows a fault.
std::optional<double> displayed_k(const sim::World& world, circuit::DeviceId device);
// The same as a reading, "display CTL", of whoever looks at that device.
std::optional<Observation> read_display(const sim::World& world, const std::string& device);

}  // namespace legwork::session
