#pragma once
// What is pasted on the inside of the door, as text: the diagram's rungs with terminals and
// conductor numbers, the legend, the nameplate, the pressure-temperature card, and how this machine
// works. All from the unit's file: what a trainee may read at any time.

#include <string>

#include "engine/unit/unit.h"

namespace legwork::terminal {

// All rungs, or those in which the part stands. A sentence if there is no such part.
std::string diagram_text(const unit::Unit& unit, const std::string& part);
std::string legend_text(const unit::Unit& unit);
std::string nameplate_text(const unit::Unit& unit);
std::string card_text(const unit::Unit& unit);
std::string sequence_text(const unit::Unit& unit);

}  // namespace legwork::terminal
