#pragma once
// Where a lead's cord runs on the page: from the meter to a terminal, round symbols and names.
// Pixels.
//
//   std::vector<Place> keep = covers_on(scene, camera, area);
//   std::vector<PointF> cord = cord_path({jack.x, jack.y}, {end.x, end.y}, area, keep);

#include <vector>

#include "gui/app.h"
#include "gui/sheet/draw.h"
#include "gui/sheet/scene.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {

// What symbols and labels cover, those at least partly within the area.
std::vector<Place> covers_on(const Scene& scene, const Camera& camera, Place area);

// The shortest way on a grid that stays clear of them, pulled tight and rounded. Close to its ends
// it may touch what the ends belong to. A straight line where there is no way round.
std::vector<PointF> cord_path(PointF from, PointF to, Place area,
                              const std::vector<Place>& keep_clear);

}  // namespace legwork::gui
