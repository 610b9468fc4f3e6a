#pragma once
// The one place where SFML and OpenGL are: opens a window, turns its events into ours, draws what
// frame() made, plays what it began. Draws only when something happened or moves.

#include <string>

#include "gui/app.h"

namespace legwork::gui {

// Empty if a window can be opened; otherwise why not, in words. SFML aborts without a display, so
// ask first.
std::string no_display();

// Works until the window is closed. Exit code. Settings that change are written to `settings_path`.
// `only_first`: leaves after the first page was shown, to measure how long that takes.
int run_window(State& state, const std::string& settings_path, bool only_first = false);

}  // namespace legwork::gui
