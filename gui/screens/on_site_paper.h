#pragma once
// What the page "on site" keeps from frame to frame besides the sheets themselves: what they were
// laid out for, where things lie, and what was worked out for the last frame and still holds.

#include <set>
#include <string>
#include <vector>

#include "gui/app.h"
#include "gui/sheet/draw.h"
#include "gui/sheet/scene.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {

struct DoorPaper {
  std::string made_for, site_made_for;  // unit, place, view, language, shape
  std::string stood;                    // place that the sheets were opened at
  bool shut = false;                    // and whether its cover was on
  std::string found_shown;              // what "find" has brought to the middle
  std::string panel_for;                // the compartment that this is the width of, sheet units
  float panel_wide = 0;
  bool whole = false;  // the whole sheets are shown, not the readable part

  bool card_open = false;  // the P-T card
  float card_x = 0.02F, card_y = 0.04F;
  bool dials_moved = false;  // until then they hang under the face of the condenser
  float dials_x = 0.5F, dials_y = 0.60F;
  std::vector<Place> hung;  // what lay over the sheets in the last frame
  Place meter{};            // the meter, and its two jacks
  PointF jacks[2];
  Place grips[2]{};  // where a lead can be taken in hand, on the machine

  // Held as long as nothing moves.
  std::string faint_for;
  std::set<std::string> faint;  // what cannot be reached from here
  struct Tied {                 // a tag's paper
    int number = 0;
    std::string text;
    Place at{};
    PointF knot;
  };
  std::size_t tags_seen = 0;  // the leads stand where the last reading was taken
  std::string tags_for;
  std::vector<Tied> tags;
};

}  // namespace legwork::gui
