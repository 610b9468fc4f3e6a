#pragma once
// What the shop asks about when it is rung: the reading that would tell most for its minutes, by
// what the trainee has read so far. "" while nothing tells more, or when the readings leave one
// repair alone; then the shop asks what the book lacks (session/shop.h).
//
//   "ring the shop about " + shop_about(call.suspects(), call.attempt(), 2)
//
// The words go into the log with the step, so a replay needs no suspects.

#include <string>

#include "engine/score/debrief.h"
#include "engine/session/attempt.h"
#include "engine/suspects/suspects.h"

namespace legwork::score {

std::string shop_about(suspects::Suspects& suspects, const session::Attempt& attempt, int threads);

// Of a call as its log stands. Opens the ticket for it: seconds, the first time.
std::string shop_about(const std::string& log_path, const DebriefOptions& options);

// What is to be submitted for "ring the shop".
std::string ring_line(const std::string& about);

}  // namespace legwork::score
