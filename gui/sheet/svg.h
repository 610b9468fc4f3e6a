#pragma once
// A scene as an SVG fragment, to stand inside a page: no scripts, no styles from outside, no fonts
// fetched. Ink is currentColor, so that the page's own colours and the printer's black both work.

#include <string>

#include "gui/sheet/scene.h"

namespace legwork::gui {

// `title` is read out by screen readers.
std::string as_svg(const Scene& scene, const std::string& title);

}  // namespace legwork::gui
