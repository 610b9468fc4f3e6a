// The parts of the unit file's manual that follow from the tables of kinds, plant fields, quantities
// and drives: written from the tables, so that they cannot drift from what the loader takes.
#pragma once

#include <string>

namespace legwork {

std::string kinds_manual();       // one table a kind
std::string plant_manual();       // fields of the plant
std::string quantities_manual();  // what can be sensed, probed, looked at; what can be driven

}  // namespace legwork
