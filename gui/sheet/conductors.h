#pragma once
// Routes the conductors of a panel. A row of parts stands between two ducts: duct r over row r,
// duct r + 1 under it. A conductor goes from its screw into the duct beside it, along the duct in a
// lane of its own, up or down through the gap between two parts where it changes ducts, and so on
// to its other screw. Nothing runs through a part, and no two conductors run along one another, but
// those that share a screw share its stub.
//
//   Bench bench;                       // rows of parts, each so wide and so high
//   bench.rows = {{{{"DISC", 132, 180}, {"FU1", 60, 176}}}};
//   std::vector<Run> runs = {{"7", {0, 0, 24, false}, {0, 1, 24, true}}};
//   lay(bench, runs);                  // fills in where parts stand and the runs' points
//
// Screws of even rows stand at multiples of 12 from the left, of odd rows 6 beside that, risers
// between: so their stubs never coincide.

#include <string>
#include <vector>

#include "gui/sheet/scene.h"

namespace legwork::gui {

struct Bench {
  struct Slot {
    std::string id;
    int wide = 0, high = 0;
    Point at{};  // upper left: laid
  };
  std::vector<std::vector<Slot>> rows;
  int wide = 0, high = 0;     // laid
  bool bundled = false;       // laid: somewhere so many run side by side that they lie in a bundle
  std::vector<int> duct_top;  // laid; one more than rows
  std::vector<int> duct_bottom;
};

struct Run {
  std::string id;
  struct End {
    int row = 0;  // -1: comes in over the panel; rows.size(): leaves under it
    int slot = 0;
    int x = 0;  // of the screw from the part's left edge; of an outer end: its place, wished
    bool below = false;  // the screw is on the lower edge
  } from, to;
  std::vector<Point> points;  // laid
};

// Height of a duct besides its lanes: where the numbers stand, above and below.
inline constexpr int kSleeveRoom = 26;

// The plate goes so far beyond the ducts; there the outer ends are.
inline constexpr int kPlateMargin = 14;

void lay(Bench& bench, std::vector<Run>& runs);

}  // namespace legwork::gui
