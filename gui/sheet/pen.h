#pragma once
// How heavy each pen is and how each trace is patterned: one description for window and SVG.

#include <span>

#include "gui/sheet/scene.h"

namespace legwork::gui {

// Width of a line in sheet units.
float width_of(Pen pen);

// On and off lengths in sheet units, alternating; empty for an unbroken line.
std::span<const float> dashes_of(Pen pen, Trace trace);

// How a trace is drawn besides its dashes.
enum class Stroking { plain, hollow, hatched, thin };
Stroking stroking_of(Trace trace);

// "leg 1", "dead": for text dumps and legends.
const char* words_of(Trace trace);
const char* words_of(Pen pen);

}  // namespace legwork::gui
