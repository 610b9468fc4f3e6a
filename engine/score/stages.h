#pragma once
// The call by stages, as a master would go: on site, is it called, power, along the rung, the part,
// why, mended, proven running, handed over. The trainee's steps and the lead's are put beside each
// other by it.

#include <vector>

#include "engine/score/call.h"
#include "engine/score/debrief.h"
#include "engine/session/ticket_files.h"

namespace legwork::score {

// Stage of each step, in order. `unit`: whose parts the steps name.
std::vector<StageKind> stages_of(const unit::Unit& unit, const suspects::Rungs& rungs,
                                 const std::vector<session::Step>& steps);
// The trainee's steps beside the lead's, who goes the way that the scenario has written, or else
// the computed route.
std::vector<Stage> stages_beside(const Call& call, const std::vector<RouteStep>& route);

// The lead's way worked on the call: each step possible, together they prove, minutes against par.
// A sentence for each that does not hold.
std::vector<Message> check_lead(const session::Attempt& on_arrival, suspects::LineupPtr lineup,
                                const Rubric& rubric);
std::vector<Message> check_lead(const session::TicketFiles& files, const std::string& home);

}  // namespace legwork::score
