#pragma once
// The legend of a sheet: the symbols that are on it with their names, and how it is drawn.

#include <string_view>

#include "engine/base/message.h"
#include "gui/sheet/scene.h"

namespace legwork::gui {

// Adds it at `from`, as wide as `width` at most, in as many columns as go. Returns what it covers.
Box add_legend(Scene& scene, Point from, int width, const Speech& speech);

// `text` broken at spaces into lines of at most `letters`.
std::vector<std::string> broken(std::string_view text, int most);

}  // namespace legwork::gui
