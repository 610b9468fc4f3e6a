#pragma once

#include <cstdlib>

namespace legwork::support {

// tests/run.sh --night: the whole of what is drawn from otherwise.
inline bool all() { return std::getenv("LEGWORK_ALL") != nullptr; }
// Kept files are written anew: all of them.
inline bool remade() { return std::getenv("LEGWORK_REMAKE") != nullptr; }
// tests/run.sh --all: kills, mutants and hostile names by the hundred.
inline bool attacked() { return all() || std::getenv("LEGWORK_ATTACK") != nullptr; }

}  // namespace legwork::support
