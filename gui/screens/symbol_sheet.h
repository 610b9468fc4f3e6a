#pragma once
// The legend on its own: every symbol with its name, zoomed and moved like any sheet.

#include "gui/app.h"
#include "gui/sheet/draw.h"

namespace legwork::gui {

struct SymbolSheetState {
  Camera camera;
  bool fitted = false;
  Scene scene;
  std::string language;  // the scene's
  std::string lit;
};

// All kinds in rows, with names and words.
Scene symbol_scene(const Speech& speech);

void draw_symbol_sheet(State& state);

}  // namespace legwork::gui
