#pragma once
// What each screen keeps between frames: one plain struct a screen, declared with it.

#include "gui/screens/symbol_sheet.h"

namespace legwork::gui {

struct ScreenStates {
  SymbolSheetState symbol_sheet;
};

}  // namespace legwork::gui
