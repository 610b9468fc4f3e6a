#pragma once
// The compartment with its cover off: parts in the rows that the unit's file gives them, ducts
// between the rows, conductors from screw to screw with their numbers, what leads out of it at the
// edges. Same terminals and wires as the ladder's, so that one touched here lights there.
//
//   Scene roof = panel(unit, "roof", sights, text);
//   Scene shut = panel_cover(unit, "roof", text);

#include <string>

#include "engine/unit/unit.h"
#include "gui/sheet/parts.h"
#include "gui/sheet/scene.h"
#include "gui/sheet/sights.h"

namespace legwork::gui {

// Has that place parts behind a cover?
bool has_panel(const unit::Unit& unit, const std::string& place);

// Empty if the place has none.
Scene panel(const unit::Unit& unit, const std::string& place, const Sights& sights,
            const SceneText& text);
// The same with the cover on: nothing but its plate. The cover is the target "!cover".
Scene panel_cover(const unit::Unit& unit, const std::string& place, const SceneText& text);

}  // namespace legwork::gui
