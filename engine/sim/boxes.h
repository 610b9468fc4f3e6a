#pragma once
// Of a machine with several boxes: whose is what, and what does one of them ask for?
//
//   if (const auto box = box_of(unit, load)) ...      // LLS2 works for box 1, counted from 0
//   if (box_calls(world, *box)) ...                   // its own thermostat asks for cooling

#include <cstddef>
#include <optional>

#include "engine/sim/world.h"

namespace legwork::sim {

// The box that a load works for; none: it works for the whole machine.
std::optional<std::size_t> box_of(const unit::Unit& unit, std::size_t load);
// A box without a thermostat of its own always asks.
bool box_calls(const World& world, std::size_t box);
// Is liquid let to any of its coils?
bool any_box_is_fed(const World& world);
// The thermostat of a box; invalid: it has none.
circuit::DeviceId thermostat_of(const World& world, std::size_t box);
bool has_several_boxes(const World& world);
// Does a defrost go on? A clock without supply stands in it for ever, and that is no defrost.
bool defrosts(const World& world);

}  // namespace legwork::sim
