#pragma once
// What was begun and ended on this machine, kept outside the logs: a log can be thrown away, cut
// short and gone on with, or begun again until it goes well. Shown with a score, never counted in
// it.
//
//   book_call(CallEvent::begun, log_header(attempt), "");
//   book_call(CallEvent::ended, log_header(attempt), "signed off");
//   const Booked booked = booked_calls(log.header);          // begun 3 times, ended twice
//   for (const Message& remark : remarks_on(booked)) show(remark);
//
// Lines of calls.book in the data folder, only ever added to. Whoever owns the machine can take it
// away.

#include <string>
#include <vector>

#include "engine/base/message.h"
#include "engine/session/log.h"

namespace legwork::session {

enum class CallEvent { begun, ended };

struct Booked {
  int begun = 0;            // of this scenario, in this version
  int ended = 0;            // signed off or ended
  int ended_by_hazard = 0;  // of those, on an unsafe act
};

// `why`: how it ended; an id of a hazard, or "signed off". False: it could not be written down.
bool book_call(CallEvent event, const LogHeader& header, const std::string& why);
Booked booked_calls(const LogHeader& header);
// Nothing where it was begun once and ended once, or this machine knows nothing of it.
std::vector<Message> remarks_on(const Booked& booked);

}  // namespace legwork::session
