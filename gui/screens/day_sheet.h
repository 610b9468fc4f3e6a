#pragma once
// The ruled sheet of the day: where to start or what is due, calls by the hour with a mark in the
// margin when done, how hard they are, a call out of the hat, past shifts with their score, what is
// secure by now, settings. What a call teaches is told after its sign-off: it would give answers
// away.

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
  int level = 0;  // only calls so hard, 1 to 5; 0: all
  bool all_past = false;
  struct Progress {
    std::vector<score::SkillLine> skills;
    std::vector<score::ShiftScore> scores;  // of the closed shifts
  };
  std::shared_ptr<Errand<Progress>> asking;
  Progress progress;
  std::string asked_for;   // a ticket that was asked for and has an open call: go on with it?
  std::string hat_number;  // as typed; empty: any
  std::shared_ptr<std::atomic<int>> hat_tried;
  std::shared_ptr<Errand<std::shared_ptr<session::Opening>>> opening;  // of a call out of the hat
};

// A call that nobody picked: by its number ("17", "wf-208-17"), or by any. Goes on with its log if
// there is one. It is made beside the page, which then turns to it.
void open_from_hat(State& state, const std::string& number, const std::string& log = {});
// Opens a ticket; asks first, on the day sheet, where a call of it is open: go on with that?
void ask_or_open(State& state, const std::string& ticket);
void leave_day_sheet(State& state);
void read_day_sheet(State& state);  // the files of the day; drawing does so where nobody did
void draw_day_sheet(State& state);

}  // namespace legwork::gui
