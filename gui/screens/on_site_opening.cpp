// A call is opened in the window, or the one that is open in it is shown again.
#include <filesystem>

#include "gui/screens/debrief.h"
#include "gui/screens/on_site.h"
#include "gui/screens/states.h"

namespace legwork::gui {

namespace {

session::OpenOptions options_of(const State& state) {
  session::OpenOptions options;
  options.home = state.home;
  return options;
}

}  // namespace

bool back_to_open_call(State& state, const std::string& log) {
  const OnSiteState& mine = state.screens->on_site;
  std::error_code error;
  if (log.empty() || !mine.door || mine.view.closed ||
      !std::filesystem::equivalent(mine.door->log_path(), log, error))
    return false;
  state.screen = "on site";
  return true;
}

bool open_ticket(State& state, const std::string& scenario, const std::string& log) {
  if (back_to_open_call(state, log)) return true;
  return take_opening(state, log.empty() ? session::Door::open(scenario, options_of(state))
                                         : session::Door::reopen(log, options_of(state)));
}

bool take_opening(State& state, session::Opening opening) {
  if (!opening.door) {
    state.notice = opening.why;
    return false;
  }
  OnSiteState& mine = state.screens->on_site;
  mine = OnSiteState{};
  state.screens->guide = {};  // it is of the call that it was begun with
  mine.door = std::move(opening.door);
  take_view(mine);
  state.notice = opening.notice;
  state.screen = "on site";
  if (state.works_ahead && !mine.view.closed) making_of(state, mine.door->log_path());
  return true;
}

}  // namespace legwork::gui
