#pragma once
// What is behind the door: the parts of one place where they physically sit, each as an outline
// with its terminals. Same terminals as the ladder's, so a terminal touched on one lights on the
// other.
//
//   Scene roof = panel(unit, "roof");

#include <string_view>

#include "engine/unit/unit.h"
#include "gui/sheet/scene.h"

namespace legwork::gui {

// Parts of `place`; empty place: every place, one frame each, in the file's order.
Scene panel(const unit::Unit& unit, std::string_view place = {});

}  // namespace legwork::gui
