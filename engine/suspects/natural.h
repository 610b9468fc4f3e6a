#pragma once
// Steps that a technician would take to find a fault. Only these are offered,
// compared with what a trainee did, or put into a route:
//
//   volts       across one part or conductor; between two lines of one supply
//   point; along a rung
//               with one lead parked on its other side; to earth where the
//               circuit is tied to it
//   ohms, µF    across one part that is dead; insulation of a load to earth
//   clamp       in a motor's or heater's own lead, or its feed
//   eyes, ears, hands, gauges, thermometers (infrared not on bright metal)
//   changes     a set point, a reset, a clock advanced, locking out; time
//   supply      never switched as a probe; off, five minutes, on again only
//   releases what holds
//               itself out (a lockout relay, a protection module), once, after
//               that was read
//
//   natural(eyes, {"volts", {"TB.L1", "Y"}})     // false: between two circuits
//   reach(eyes, steps)                           // 1.3 for the gauges, 0.15
//   for infrared

#include <span>
#include <string>
#include <string_view>

#include "engine/session/step.h"
#include "engine/suspects/eyes.h"

namespace legwork::suspects {

// One step by itself: where its leads, jaw or probe go.
bool natural(const Eyes& eyes, const session::Step& step);
// Steps in a row, as an offer or a part of a route has them: a handle that is
// opened is locked, or stays open for five minutes and is closed again.
bool natural(const Eyes& eyes, std::span<const session::Step> steps);

// What a minute with the last of these weighs, by how freely a technician
// reaches for it.
double reach(const Eyes& eyes, std::span<const session::Step> steps);
// Of a pair of leads: across a part 1, then less the farther from it.
double handiness(const Eyes& eyes, circuit::TerminalId a, circuit::TerminalId b);

// With these handles open and locked, can no leg of the supply reach any of these terminals, by
// whatever contact may close?
bool held_off(const circuit::Circuit& wiring, std::span<const std::string> handles,
              std::span<const circuit::TerminalId> terminals);

// Leads, clamp or ohmmeter in a panel: what wants the supply proven first.
bool uses_leads(const session::Step& step);
// Does switching the supply off and on let go what such a device holds? A lockout relay, a motor
// protection module: kinds that keep themselves out.
bool held_by_supply(const circuit::Device& device);

}  // namespace legwork::suspects
