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
  session::WriteUp draft;
  std::string sureness;
  std::string asking;  // the blank being filled: its completions stand under the sentence
  std::vector<Message> answer;
};

void draw_write_up(State& state);

}  // namespace legwork::gui
