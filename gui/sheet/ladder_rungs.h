#pragma once
// The control side: rungs between two rails, read from the top. A rail goes on for as long as the
// rungs under it begin (or end) at the same terminal; loads stand at the right, as is the custom.

#include <vector>

#include "gui/sheet/ladder_ink.h"
#include "gui/sheet/ladder_rows.h"

namespace legwork::gui {

int height_of(const RowSection& section);

// Draws sections one under the other from (left, top) on; every rung gets the next line number.
// Returns what they cover.
Box draw_rungs(const std::vector<const RowSection*>& sections, LadderInk& ink, Point from,
               int& line);

// What "draw_rungs" would take in width.
int width_of(const std::vector<const RowSection*>& sections);

}  // namespace legwork::gui
