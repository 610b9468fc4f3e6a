#pragma once
// The shop lead's page: units and scenarios found, what the check says of them, the answer and the
// route of one. It shows the truth, so it is a page of its own and says so.

#include <future>
#include <string>
#include <vector>

#include "engine/score/lead.h"
#include "engine/session/door.h"
#include "gui/app.h"

namespace legwork::gui {

struct LeadState {
  bool read = false;
  std::vector<session::TicketLine> tickets;
  std::string chosen;
  std::future<score::LeadPage> working;
  score::LeadPage page;
  bool has_page = false;
};

void draw_lead(State& state);

}  // namespace legwork::gui
