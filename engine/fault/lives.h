#pragma once
// Faults that lead the same life: wherever a series of wires and contacts without a branch is open,
// the machine stands alike, and only a meter along the series tells where. So one history serves
// all of them.
//
//   const std::vector<int> lives = lives_of(unit, faults);   // equal numbers: one life
//
// Two faults are one life if each opens, or loosens by as many ohms, one element, and both elements
// lie in one series: from branch to branch, with nothing between them that feels volts.

#include <string>
#include <vector>

#include "engine/fault/fault.h"

namespace legwork::fault {

// One number a group of faults that act together; groups of more than one are each their own.
std::vector<int> lives_of(const unit::Unit& unit, const std::vector<std::vector<Fault>>& faults);

// How many there are: faults, and lives among them.
struct LifeCount {
  int faults = 0, lives = 0;
};
LifeCount count_lives(const unit::Unit& unit, const std::vector<std::vector<Fault>>& faults);

}  // namespace legwork::fault
