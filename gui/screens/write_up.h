#pragma once
// The write-up: a sentence to complete by typing with completion, then what was done, verified,
// said and left to whom. Every part is a step of its own, so that a draft survives in the shift
// log.

#include <string>
#include <vector>

#include "engine/session/view.h"
#include "gui/app.h"

namespace legwork::gui {

struct WriteUpState {
  bool begun = false;
  std::string log;  // of the call that it belongs to
  session::WriteUp draft;
  session::WriteUp kept;   // as the log had it when it was looked at last
  std::string written_in;  // the blank or line that was written in with the last frame
  std::string sureness;
  std::string asking;  // the blank being filled: its completions stand under the sentence
  bool wires = false;  // conductors are offered with the parts
  std::vector<Message> answer;
};

void draw_write_up(State& state);
// Keeps what is whole in the log; what is begun only stays here while the program runs.
void leave_write_up(State& state);

}  // namespace legwork::gui
