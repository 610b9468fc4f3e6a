#pragma once
// What is behind the doors: the parts of each place where they physically sit, each as an outline
// with its terminals as screws. Same terminals as the ladder's, so a terminal touched on one lights
// on the other.
//
//   PanelSheet sheet = panel(unit, {.here = "roof", .wide = 420});
//   camera = fit(sheet.here, area);      // where one stands; the rest lies under it

#include <string>

#include "engine/unit/unit.h"
#include "gui/sheet/scene.h"

namespace legwork::gui {

struct PanelOptions {
  std::string here;  // place that stands first; empty: the file's order
  int wide = 420;    // parts are wrapped to this, in sheet units
  std::string language = "en";
};

struct PanelSheet {
  Scene scene;
  Box here{};  // the frame of the place where one stands; empty if nothing sits there
};

PanelSheet panel(const unit::Unit& unit, const PanelOptions& options = {});

}  // namespace legwork::gui
