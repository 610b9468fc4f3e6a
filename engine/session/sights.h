#pragma once
// What was observed, look by look, for the View: the latest of each.

#include "engine/session/attempt.h"

namespace legwork::session {

void keep_sights(Attempt& attempt, const Seen& seen);
// What hung before the step and does no more is held; `hung`: before it.
void keep_held(Attempt& attempt, const std::vector<Hooked>& hung);

std::vector<InstrumentView> instruments_hooked(const Attempt& attempt);
// What was switched, moved or heard to change since that minute: "DISC open since 05:21". "":
// nothing.
Message changed_since(const Attempt& attempt, double minute);

}  // namespace legwork::session
