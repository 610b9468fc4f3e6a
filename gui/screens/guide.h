#pragma once
// The guided first call: a slip of paper that says one thing at a time, rings what is meant, and
// goes on by itself once that was done. Two minutes, on any ticket; it tells how to work, never
// what is wrong.

#include "gui/app.h"

namespace legwork::gui {

struct GuideState {
  bool open = false;
  int step = 0;
};

// From its first slip; on the first ticket, if none is being worked.
void start_guide(State& state);
// Over the page on site; nothing when it is closed.
void draw_guide(State& state);

}  // namespace legwork::gui
