// The rows behind modes_of() for what is no device and no wire. Internal to engine/fault.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/fault/modes.h"

namespace legwork::fault {

// "condenser", "charge" ... of this unit, in the order of the table. The device that turns the
// compressor stands in for the compressor.
std::vector<std::string> plant_things(const unit::Unit& unit);
std::vector<Mode> plant_modes(const unit::Unit& unit, std::string_view thing);

inline constexpr std::string_view kSupply = "supply";
std::vector<Mode> supply_modes(const unit::Unit& unit);
// By the people of the supply; legs from 0.
Cure restore_leg(const circuit::Supply& supply, std::size_t leg);

// The name of a thing of the plant, of the `which`-th (from 0) where the unit has several of it:
// "evaporator", "evaporator 2". And back.
std::string thing_of(const unit::Unit& unit, std::string_view thing, std::size_t which);
struct NumberedThing {
  std::string_view thing;
  std::size_t which = 0;
};
NumberedThing numbered_thing(std::string_view name);

bool drives_a_compressor(const unit::Unit& unit, std::string_view device);
// Device that drives this plant input ("compressor.speed"); empty if none does.
std::string driver_of(const unit::Unit& unit, std::string_view drive);

}  // namespace legwork::fault
