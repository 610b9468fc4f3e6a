#pragma once
// What is wrong with a page as it was drawn, by its triangles: letters cut off at a side, letters
// that lie on letters, what can be chosen out of the page, over one another, or too small for a
// finger. Whatever the page is made of: nothing here knows a screen.

#include <string>

#include "gui/app.h"

namespace legwork::gui {

// Of the last frame, of that size. Empty: all is well.
std::string page_faults(const State& state, int width, int height);

}  // namespace legwork::gui
