#pragma once
// What a repair needs besides time: where it is done, whether its part is on the truck, what turns
// there. And the words that a repair can begin with, by which a line is known to be one.

#include <string>
#include <string_view>
#include <vector>

#include "engine/fault/repairs.h"
#include "engine/session/attempt.h"

namespace legwork::session {

// "replace", "tighten", "wash" ...: first words of the texts of all repairs.
const std::vector<std::string_view>& repair_words();

// Parts dearer than a drawer of the truck holds (common practice, no source): compressor, valves
// ...
bool must_be_fetched(const fault::Repair& repair);
std::vector<std::string> parts_to_fetch(const std::vector<fault::Repair>& repairs);

// Where a thing of the plant is worked on: "condenser" -> where its fan is. "" = anywhere.
std::string place_of_thing(const unit::Unit& unit, std::string_view thing);
// Motors that turn where one works on it.
void add_machines_of(const unit::Unit& unit, std::string_view thing, Touched& touched);

}  // namespace legwork::session
