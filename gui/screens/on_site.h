#pragma once
// On site: the door with its diagram, the panel behind it and the piping on its back; the strip
// with the places along the top; what can be done here in words; the pad with the tags; the bag
// along the foot. Everything done goes through the Door as a step's line, the same that the
// terminal takes.

#include <memory>
#include <string>
#include <vector>

#include "engine/session/door.h"
#include "gui/app.h"
#include "gui/screens/on_site_paper.h"
#include "gui/sheet/draw.h"
#include "gui/sheet/scene.h"

namespace legwork::gui {

// Which end of a cord is meant.
enum class Lead { red, black };

struct OnSiteState {
  std::unique_ptr<session::Door> door;
  session::View view;

  // The sheets, made once a ticket.
  Scene diagram, piping, panel;
  double diagram_shape = 0;  // of the area that the diagram was laid out for
  std::string panel_place;
  Camera diagram_camera, piping_camera, panel_camera;
  bool diagram_fitted = false, piping_fitted = false, panel_fitted = false;
  Place diagram_area;  // where it was last drawn: a window that changes size is fitted again
  DoorPaper paper;
  bool back = false;  // the sheet is turned over
  bool panel_open = true, pad_open = true, ticket_open = true;

  // The instrument in hand.
  std::string hand;                      // its verb: "volts"; empty: none
  std::string red, black;                // terminals; empty: hanging loose
  int dragging = -1;                     // 0 red, 1 black: while the button is down
  Message shown;                         // what it showed last
  float hang_x = 0.42F, hang_y = 0.72F;  // where it hangs, as a part of the sheet's area

  // What was said last.
  std::vector<Message> answer;
  std::vector<Message> harm;
  bool refused = false;

  std::string typed, find;
  bool lamp = false;  // in hand: what can be looked at with it is shown
  std::string group;  // the list of things to do that is unfolded
  std::string found;  // device or terminal that "find" lights
  std::string remark;
  int remark_on = -1;  // tag whose remark is being written
};

// Opens a ticket, or goes on with its unfinished log. False: state.notice says why.
bool open_ticket(State& state, const std::string& scenario, const std::string& log = {});
// The same with a door that was opened beside the page.
bool take_opening(State& state, session::Opening opening);
// Gives one step to the door and shows what came of it.
void give_step(State& state, const std::string& line);

void draw_on_site(State& state);

}  // namespace legwork::gui
