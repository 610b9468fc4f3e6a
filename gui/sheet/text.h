#pragma once
// A scene as text, one element a line in the scene's own order: what tests compare.
//
//   symbol "CC" coil at 120 40 turn 0
//   wire "HPC.2>CC.A1" control 60 40, 96 40 leg 1

#include <string>

#include "gui/sheet/scene.h"

namespace legwork::gui {

std::string as_text(const Scene& scene);

}  // namespace legwork::gui
