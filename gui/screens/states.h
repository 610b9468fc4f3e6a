#pragma once
// What each screen keeps between frames: one plain struct a screen, declared with it.

#include "gui/screens/beside.h"
#include "gui/screens/day_sheet.h"
#include "gui/screens/debrief.h"
#include "gui/screens/guide.h"
#include "gui/screens/lead.h"
#include "gui/screens/on_site.h"
#include "gui/screens/symbol_sheet.h"
#include "gui/screens/write_up.h"

namespace legwork::gui {

struct ScreenStates {
  Beside beside;
  DaySheetState day_sheet;
  OnSiteState on_site;
  GuideState guide;
  WriteUpState write_up;
  DebriefState debrief;
  LeadState lead;
  SymbolSheetState symbol_sheet;
};

}  // namespace legwork::gui
