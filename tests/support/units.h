// Units as they are shipped, loaded once per test program.
#pragma once

#include <string>
#include <vector>

#include "engine/unit/unit.h"

namespace legwork::support {

inline const std::string kHome = LEGWORK_SOURCE_DIR;

// circuits/ID.yaml; a test fails loudly if it does not load.
unit::UnitPtr shipped_unit(const std::string& id);

// Ids of all files in circuits/, in their order: what is tested of every unit is tested of these.
const std::vector<const char*>& unit_ids();

}  // namespace legwork::support
