#pragma once
// Every name that a scenario or a step may use of a unit: devices with their terminals and ways to
// fail, wires, and what else can be at fault. `legwork parts UNIT` prints it.
//
//   fmt::print("{}", parts_text(*unit));

#include <string>

#include "engine/unit/unit.h"

namespace legwork::commission {

std::string parts_text(const unit::Unit& unit, const Speech& speech);

}  // namespace legwork::commission
