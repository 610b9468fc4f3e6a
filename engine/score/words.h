#pragma once
// Steps, findings and times as a technician would say them: Messages, rendered last.

#include <string>
#include <string_view>

#include "engine/base/message.h"
#include "engine/session/seen.h"
#include "engine/session/step.h"

namespace legwork::score {

using legwork::say;

// {"volts", {"CC.A1", "CC.A2"}} -> "volts across CC.A1–CC.A2"; {"go", {"roof"}} -> "walking to the
// roof"
Message say(const session::Step& step);
Message heading(const session::Step& step);  // "Walking to the roof"
// "condenser" -> "the condenser"; "CC", "CC.A1", "box air" have no article.
Message the(const std::string& thing);
Message the_fault(const std::string& text);  // as fault::text says it
Message minutes_words(double minutes);       // "6 min", "1 h 20 min", "½ min"
// "step 19: looking at CF1": a step is never referred to by its number alone.
Message step_words(int number, const session::Step& step);
// What a step was made to read, all in one; empty: nothing. Of a proof that parts are dead, the
// most that was read at each.
Message shown_by_step(const session::Outcome& outcome);

std::string clock_text(double seconds_of_day);  // "05:10"
// "condenser: plugged inside: two thirds" -> "condenser, plugged inside (two thirds)"
struct FaultWords {
  Message whole, bare, severity;
};
FaultWords fault_words(std::string_view text);

}  // namespace legwork::score
