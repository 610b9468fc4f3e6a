#pragma once
// The ruled sheet of the day: calls by the hour, past shifts, a call out of the hat, settings.

#include <string>
#include <vector>

#include "engine/session/door.h"
#include "gui/app.h"

namespace legwork::gui {

struct DaySheetState {
  bool read = false;
  std::vector<session::TicketLine> tickets;
  std::vector<session::PastShift> past;
  bool cautions_read = false;
};

void draw_day_sheet(State& state);

}  // namespace legwork::gui
