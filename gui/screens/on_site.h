#pragma once
// On site: what stands here from outside, the compartment with its cover off, the door with the
// sheet; above them the places, the ticket and what was seen and heard; below, on the tailgate, the
// bag, the meter, the tags and a line to type on. Everything done goes through the Door as a step's
// line, the same that the terminal takes.

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "engine/session/door.h"
#include "gui/app.h"
#include "gui/screens/on_site_paper.h"
#include "gui/sheet/draw.h"
#include "gui/sheet/scene.h"
#include "gui/sheet/sights.h"

namespace legwork::gui {

struct OnSiteState {
  std::unique_ptr<session::Door> door;
  session::View view;
  Sights sights;       // of the view
  int view_count = 0;  // views taken: what is worked out of one holds until the next

  // The sheets, made once a ticket; the drawn site, made once a view.
  Scene diagram, piping, panel, outside;
  double diagram_shape = 0;  // of the area that the diagram was laid out for
  Camera diagram_camera, piping_camera, panel_camera, outside_camera;
  bool diagram_fitted = false, piping_fitted = false, panel_fitted = false, outside_fitted = false;
  Place diagram_area, panel_area, outside_area;  // where they were last drawn
  DoorPaper paper;
  bool back = false;  // the sheet is turned over
  bool outside_open = false, pad_open = false, ticket_open = false;
  bool pad_trail = false;  // the pad shows every step, not the readings alone

  // The instrument in hand.
  std::string hand = "volts";  // its verb
  std::string red, black;      // terminals; empty: at the meter
  int dragging = -1;           // 0 red, 1 black: while the button is down
  int taken = -1;              // the same: in hand, until it is put somewhere
  // Where the leads were before each act that cost nothing, the latest last, since the last step
  // that cost something: what Ctrl Z takes back.
  struct LeadsWere {
    std::string hand, red, black;
    bool read = false;  // both were on, and the meter read
  };
  std::vector<LeadsWere> leads_were;
  Message shown;             // what it showed last
  double shown_minute = -1;  // when
  // What was watched last: readings as they moved, by tick of the world. Empty: nothing.
  struct Watched {
    double tick = 0, value = 0;
    Message shown;
  };
  std::vector<Watched> watched;

  // The slip that is open: a part, a thing ("!condenser"), a wire. Empty: none.
  std::string slip;
  Place slip_beside;                    // what it belongs to, on the page
  Place slip_at;                        // where it lay in the last frame
  std::string slip_laid_for;            // the slip and its room that `slip_top` holds for
  float slip_top = 0;                   // pixels of the page
  int slip_frames = 0;                  // since it was laid
  std::string wires_of;                 // the part whose conductors are unfolded on its slip
  std::string at_screw;                 // the screw that was chosen with it
  std::map<std::string, double> dials;  // "HPC opens": where a dial is to be set, SI
  std::string cursor;                   // part or terminal that the keys stand on; empty: none

  // What was said last.
  std::vector<Message> answer;
  std::vector<Message> harm;
  Message asking;          // before hands go in; empty: nothing is asked
  std::string asked_line;  // what was asked about
  bool refused = false;

  // The look that was taken last: its picture with its sentence lies beside what was looked at.
  std::string look_at;  // "!condenser", "CC"; empty: folded
  std::vector<Message> look_says;
  bool look_with_lamp = false;
  double look_minute = 0;

  std::string typed, find;
  bool lamp = false;        // in hand: what can be looked at with it is shown
  bool steps_open = false;  // the list of all steps
  bool seen_open = false;   // what was not looked at
  bool safe_open = true;    // the list of what was made safe
  bool bag_open = false;    // where the bag is but one word
  std::string group;        // the list of things to do that is unfolded
  std::string found;        // device or terminal that "find" lights
  std::string remark;
  int remark_on = -1;  // tag whose remark is being written
  double idle_s = 0;   // since somebody did something: what turns stops after a while
  double spin = 0;     // radians
  // A start is a moment: seconds since the last step, what moved in it, and what was heard of it
  // besides the parts' own words.
  double since_step_s = 60;
  std::set<std::string> started;
  std::vector<Message> caught;
  double needles[2] = {-1, -1};  // where the two needles stand, Pa gauge; below 0: not hung
};

// Opens a ticket, or goes on with its unfinished log. False: state.notice says why.
bool open_ticket(State& state, const std::string& scenario, const std::string& log = {});
// True: that log is the call that is open in this window, and it is shown again.
bool back_to_open_call(State& state, const std::string& log);
// The same with a door that was opened beside the page.
bool take_opening(State& state, session::Opening opening);
// Gives one step to the door and shows what came of it.
void give_step(State& state, const std::string& line);
// The same as somebody chose or typed it: hands where nothing was proven dead are asked for first.
void ask_step(State& state, const std::string& line);
// What the door shows now.
void take_view(OnSiteState& mine);

void draw_on_site(State& state);

}  // namespace legwork::gui
