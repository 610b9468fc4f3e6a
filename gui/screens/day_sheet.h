#pragma once
// The ruled sheet of the day: calls by the hour with a mark in the margin when done, practice by
// what it teaches, a call out of the hat, past shifts, what is secure by now, settings.

#include <future>
#include <string>
#include <vector>

#include "engine/score/lead.h"
#include "engine/session/door.h"
#include "gui/app.h"

namespace legwork::gui {

struct DaySheetState {
  bool read = false;
  std::vector<session::TicketLine> tickets;  // by the hour
  std::vector<session::PastShift> past;
  std::string teaches;  // only calls that teach this; empty: all
  bool all_past = false;
  std::future<std::vector<score::SkillLine>> asking;  // worked out beside the page
  std::vector<score::SkillLine> skills;
};

void draw_day_sheet(State& state);

}  // namespace legwork::gui
