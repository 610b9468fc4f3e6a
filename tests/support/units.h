// Units as they are shipped, loaded once per test program.
#pragma once

#include <string>

#include "engine/unit/unit.h"

namespace legwork::support {

inline const std::string kHome = LEGWORK_SOURCE_DIR;

// circuits/ID.yaml; a test fails loudly if it does not load.
unit::UnitPtr shipped_unit(const std::string& id);

}  // namespace legwork::support
