#pragma once
// The shop lead's page: units and scenarios found, what the check says of them, and of one the
// answer, the route and the readings to expect, to try and to print; of a unit its days. It shows
// the truth, so it is a page of its own, behind a code of the lead's choice (lead_bench.h). A file
// that changes on disk is read, run and judged again.

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "engine/score/lead.h"
#include "engine/session/door.h"
#include "gui/app.h"
#include "gui/screens/beside.h"
#include "gui/screens/lead_bench.h"

namespace legwork::gui {

struct UnitFile {
  std::string path;
  Message name;          // "wf-208, walk-in freezer …"; the path if the file does not load
  std::string findings;  // of the check; empty: none
};

struct LeadState {
  bool read = false;
  std::vector<session::TicketLine> tickets;
  std::vector<UnitFile> units;
  std::string chosen;                         // path of a scenario or a unit
  std::filesystem::file_time_type written{};  // the chosen file, when it was read
  double looked_s = 0;                        // seconds since it was last looked at
  // Of the folders with files of one's own: moved when a file comes or goes.
  std::vector<std::filesystem::file_time_type> folders;
  std::shared_ptr<Errand<score::LeadPage>> working;
  score::LeadPage page;
  bool has_page = false;
  LeadBench bench;
  std::shared_ptr<Errand<std::string>> checking;
  std::string checked;  // what the check says of the chosen file, run and all
  bool sound = false;   // it was checked and nothing was found
  Message said;         // what became of the last thing asked for
};

// Opens the page on a scenario, by id or path; on none if there is none of that name.
void open_lead(State& state, const std::string& scenario);
void draw_lead(State& state);
void leave_lead(State& state);  // for the day sheet: it shows nothing of the last call again

}  // namespace legwork::gui
