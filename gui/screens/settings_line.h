#pragma once
// Paper, language, units, sound and text size, in as many lines as they need: along the foot of the
// day sheet, and on the page that F1 opens, so that they are at hand in a call.

#include "gui/app.h"

namespace legwork::gui {

void draw_settings(State& state, float width);
// How high they are at that width.
float settings_high(const State& state, float width);

}  // namespace legwork::gui
