#pragma once
// The working half of the lead's page: the code that opens it, a unit's days as curves, a form that
// writes a scenario file, files opened in the system's own programs, an answer sheet to print.

#include <memory>
#include <string>

#include "engine/commission/day_chart.h"
#include "engine/commission/new_scenario.h"
#include "engine/score/lead.h"
#include "gui/app.h"
#include "gui/screens/beside.h"

namespace legwork::gui {

struct LeadBench {
  bool open = false;  // the code was given, in this run of the program
  std::string code, again;
  Message wrong;         // why the code was not taken
  bool writing = false;  // the form is open
  commission::ScenarioForm form;
  std::string fault, second;  // "HPC: stuck open"
  std::string unit;           // path of the unit whose days are shown
  std::shared_ptr<Errand<commission::DayCharts>> living;
  commission::DayCharts days;
  std::size_t day = 0;
};

// True once the code was given. Until then it draws what asks for it: at the first time for a code
// of the lead's choice. Kept as a salted SHA-256 in the data folder, file "lead-code"; who forgets
// it deletes that file. It keeps answers from being one click away, no more.
bool draw_lead_gate(State& state, LeadBench& bench, float width);

// Curves of a unit; lives its days beside the page when first asked.
void draw_unit_days(State& state, LeadBench& bench, const std::string& unit_path, float width);

// The form. Returns the path of the file once it was written.
std::string draw_scenario_form(State& state, LeadBench& bench, float width);

// Opens a file in the program that the system has for it (xdg-open). False: there is none.
bool open_outside(const std::string& path);
// The page as HTML that prints on paper; its path, or nothing.
std::string write_answer_sheet(const score::LeadPage& page, const Speech& speech);

}  // namespace legwork::gui
