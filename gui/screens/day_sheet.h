#pragma once
// The ruled sheet of the day: calls by the hour with a mark in the margin when done, practice by
// what it teaches, a call out of the hat, past shifts, what is secure by now, settings.

#include <memory>
#include <string>
#include <vector>

#include "engine/score/lead.h"
#include "engine/session/door.h"
#include "gui/app.h"
#include "gui/screens/beside.h"

namespace legwork::gui {

struct DaySheetState {
  bool read = false;
  std::vector<session::TicketLine> tickets;  // by the hour
  std::vector<session::PastShift> past;
  std::string teaches;  // only calls that teach this; empty: all
  bool all_past = false;
  std::shared_ptr<Errand<std::vector<score::SkillLine>>> asking;
  std::vector<score::SkillLine> skills;
  std::string hat_number;  // as typed; empty: any
  std::shared_ptr<std::atomic<int>> hat_tried;
  std::shared_ptr<Errand<std::shared_ptr<session::Opening>>> opening;  // of a call out of the hat
};

// A call that nobody picked: by its number ("17", "wf-208-17"), or by any. Goes on with its log if
// there is one. It is made beside the page, which then turns to it.
void open_from_hat(State& state, const std::string& number, const std::string& log = {});
void read_day_sheet(State& state);  // the files of the day; drawing does so where nobody did
void draw_day_sheet(State& state);

}  // namespace legwork::gui
