#pragma once
// The legend on its own: every symbol with its name, near enough to read, or the whole of it.

#include "gui/app.h"
#include "gui/sheet/draw.h"

namespace legwork::gui {

struct SymbolSheetState {
  bool whole = false;  // all of it at once, however small
  Scene scene;
  std::string language;  // the scene's
  int columns = 0;       // the scene's
};

// All kinds in rows of so many, with names and words.
Scene symbol_scene(const Speech& speech, int columns = 6);

void draw_symbol_sheet(State& state);

}  // namespace legwork::gui
