#pragma once
// The debrief: the trainee is asked first; then the log as pages, one a step, with the sheet as it
// was and the ink list of suspects; then the page of account.

#include <future>
#include <memory>
#include <string>
#include <vector>

#include "engine/score/debrief.h"
#include "engine/unit/unit.h"
#include "gui/app.h"
#include "gui/sheet/draw.h"

namespace legwork::gui {

struct DebriefState {
  std::string log;
  std::future<score::DebriefResult> working;
  std::shared_ptr<const score::Debrief> debrief;
  std::string why;
  std::string own_answer;  // what the trainee still suspected
  bool asked = false;
  bool account = false;  // the page of account is open
  int page = 0;
  std::shared_ptr<const unit::Unit> unit;
  Scene diagram;  // without marks; marked copy below
  Scene marked;
  int marked_page = -1;
  Camera camera;
  Place fitted_area;
  std::string saved;  // where the HTML went
};

void open_debrief(State& state, const std::string& log_path);
void draw_debrief(State& state);

// The sheet with every conductor marked by the leg it followed on that page.
Scene marked_sheet(const Scene& sheet, const circuit::Circuit& circuit, const score::Page& page);

}  // namespace legwork::gui
