#pragma once
// What the door keeps from frame to frame besides the sheets themselves: what they were laid out
// for, where things hang, and what was worked out for the last frame and still holds.

#include <set>
#include <string>
#include <vector>

#include "gui/app.h"
#include "gui/sheet/draw.h"
#include "gui/sheet/scene.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {

struct DoorPaper {
  std::string made_for, panel_made_for;  // unit, place, language, shape
  std::string stood;                     // place that the diagram was opened at
  Box panel_here{};                      // where one stands, on the panel's sheet
  std::string found_shown;               // what "find" has brought to the middle
  int moved = 0;                         // times the sheet was moved to show something
  std::string led_to;                    // leads that the sheet was moved for
  bool whole = false;                    // the whole sheet is shown, not the readable part

  bool card_open = false;  // the P-T card
  float card_x = 0.02F, card_y = 0.04F;
  float dials_x = 0.44F, dials_y = 0.66F;
  std::vector<Place> hung;    // what lay over the sheets in the last frame
  bool hung_by_hand = false;  // the meter was moved: it stays there
  std::string hung_for;       // otherwise, what its place was chosen for

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
  std::string cords_for;
  std::vector<std::vector<PointF>> cords;
};

}  // namespace legwork::gui
