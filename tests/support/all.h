#pragma once

#include <cstdlib>

namespace legwork::support {

// tests/run.sh --all: the whole of what is drawn from otherwise.
inline bool all() { return std::getenv("LEGWORK_ALL") != nullptr; }

}  // namespace legwork::support
