#pragma once
// JSON Schemas of unit and scenario files, written from the tables that the loaders read by: kinds,
// plant fields, quantities, drives, ways to fail. Editors complete and check with them.
//
//   unit_schema();                    // circuits/unit.schema.json
//   scenario_schema({wf, wc, …});     // scenarios/scenario.schema.json: names of those units
//
// A schema checks what can be told of a file by itself: keys, words, quantities with their units,
// names of parts. What takes a circuit is for `legwork check`.

#include <string>
#include <vector>

#include "engine/unit/unit.h"

namespace legwork::commission {

std::string unit_schema();
// `what` and `how` are those of the unit that the scenario names. `only`: of one unit alone, and a
// scenario for another one is refused.
std::string scenario_schema(const std::vector<unit::UnitPtr>& units, bool only = false);

}  // namespace legwork::commission
