#include "gui/screens/beside.h"

#include <algorithm>

#include "gui/screens/states.h"

namespace legwork::gui {

score::Making& making_of(State& state, const std::string& log_path, bool waited_for) {
  Beside& mine = state.screens->beside;
  if (mine.making == nullptr || mine.making->log_path() != log_path) {
    leave(state, mine.making);
    score::DebriefOptions options;
    options.home = state.home;
    mine.making = std::make_shared<score::Making>(log_path, options, !waited_for);
  }
  return *mine.making;
}

void leave_making(State& state) { leave(state, state.screens->beside.making); }

void leave_work(State& state, std::function<bool()> gone) {
  state.screens->beside.leaving.push_back(std::move(gone));
}

void reap(State& state) {
  auto& leaving = state.screens->beside.leaving;
  leaving.erase(
      std::remove_if(leaving.begin(), leaving.end(), [](const auto& gone) { return gone(); }),
      leaving.end());
}

}  // namespace legwork::gui
