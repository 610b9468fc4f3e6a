#pragma once
// The debrief: the trainee is asked first; then the log as pages, one a step, with the sheet as it
// was and the ink list of suspects; then the page of account. debrief.cpp keeps the flow,
// debrief_pages.cpp draws the pages, debrief_account.cpp the account, debrief_sheet.cpp marks the
// sheet and saves the whole as one file.

#include <memory>
#include <string>
#include <vector>

#include "engine/score/making.h"
#include "engine/session/view.h"
#include "engine/unit/unit.h"
#include "gui/app.h"
#include "gui/screens/beside.h"
#include "gui/sheet/draw.h"

namespace legwork::gui {

struct DebriefState {
  std::string log;
  std::shared_ptr<const score::DebriefHead> head;  // there before the rest
  std::shared_ptr<const score::Debrief> debrief;
  Message why;
  std::string own_answer;  // what the trainee still suspected
  bool asked = false;
  bool account = false;  // the page of account is open
  int page = 0;
  bool running_on = false;  // pages turn by themselves
  double turned_s = 0;      // seconds since the last turned
  std::shared_ptr<const unit::Unit> unit;
  Scene diagram;  // without marks; marked copy below
  std::string diagram_language;
  Scene marked;
  int marked_page = -1;
  Camera camera;
  Place fitted_area;
  // The machine as it was seen then: asked for by the trainee, drawn once a page.
  bool machine = false;
  std::shared_ptr<const session::View> call;  // the whole call, once it is needed
  Scene outside, panel;
  int drawn_page = -1;
  Message saved;           // where the HTML went, or that it did not
  std::string saved_path;  // to be opened; empty: nothing saved
  // What the points do not say; worked out beside the page.
  std::shared_ptr<Errand<std::vector<Message>>> asking_beside;
  std::vector<Message> beside;
};

void open_debrief(State& state, const std::string& log_path);
// Waits for what is being worked out: for tests and pictures. The page itself never waits.
void wait_for_debrief(State& state);
void draw_debrief(State& state);

namespace debrief {

// Terminals that a step's line names, in its order: the red lead's, the black one's.
std::vector<std::string> terminals_in(const std::string& line, const circuit::Circuit& circuit);

// The step's words, what it told, the sheet and the ink list.
void draw_page(State& state, DebriefState& mine, Place area);
void draw_account(State& state, DebriefState& mine, Place area);
// The trainee's steps beside the lead's, by stages; a step's number turns to its page.
void draw_stages(State& state, DebriefState& mine, float width);
// A way to go, a step a line, under its heading.
void draw_route(State& state, const std::vector<score::RouteStep>& route, double minutes,
                float width);

// The sheet on one page: every conductor marked by the leg it followed, and the tags so far, this
// page's with its reading.
Scene marked_sheet(const Scene& sheet, const circuit::Circuit& circuit,
                   const score::Debrief& debrief, int page, const Speech& speech);
// Outside and panel as they were seen at the end of a page, with rings where the leads were.
void draw_machine(State& state, DebriefState& mine, Place area);
// The debrief with its sheets as one HTML file. Path, or nothing if it cannot be written.
std::string save_html(const State& state, const DebriefState& mine);

}  // namespace debrief
}  // namespace legwork::gui
