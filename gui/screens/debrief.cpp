#include "gui/screens/debrief.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <chrono>

#include "engine/session/door.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/states.h"
#include "gui/sheet/ladder.h"

namespace legwork::gui {
namespace {

bool ready(State& state, DebriefState& mine) {
  if (mine.debrief || !mine.why.empty()) return true;
  if (!mine.working.valid()) return true;
  if (mine.working.wait_for(std::chrono::seconds(0)) != std::future_status::ready) {
    state.moving = true;  // look again with the next frame
    return false;
  }
  score::DebriefResult result = mine.working.get();
  mine.debrief = std::move(result.debrief);
  mine.why = std::move(result.why);
  return true;
}

void take_unit(State& state, DebriefState& mine) {
  if (mine.unit || !mine.debrief) return;
  OnSiteState& site = state.screens->on_site;
  if (site.door && site.view.unit && site.view.unit->id == mine.debrief->unit_id) {
    mine.unit = site.view.unit;
  } else {
    session::OpenOptions options;
    options.home = state.home;
    const session::Opening opening = session::Door::reopen(mine.log, options);
    if (opening.door) {
      mine.unit = opening.door->view().unit;
      learn(state, opening.door->texts());
    }
  }
  if (mine.unit)
    mine.diagram = ladder(*mine.unit, {.shape = 1.8, .language = state.settings.language});
}

// Before anything is shown: what do they still suspect, and what would they have read next?
void draw_asking(State& state, DebriefState& mine) {
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float width = std::min(all.x * 0.7F, 820 * s), left = (all.x - width) / 2;
  kit::at(left, all.y * 0.22F);
  kit::heading(state, mine.debrief->site);
  kit::at(left, kit::down() + 8 * s);
  kit::words(state, mine.debrief->ask_first, kit::Tone::ink, width);
  kit::at(left, kit::down() + 14 * s);
  kit::lines(state, "own answer", mine.own_answer, width, 3);
  kit::at(left, kit::down() + 18 * s);
  const bool on = !state.help && ImGui::GetIO().KeyCtrl && kit::pressed(Key::enter);
  if (kit::choice(state, "show pages", say(state, "debrief.show pages")) || on) mine.asked = true;
  ImGui::SameLine(0, 30 * s);
  if (kit::choice(state, "show account", say(state, "debrief.account")))
    mine.asked = mine.account = true;
}

constexpr double kPageSeconds = 2.5;  // when pages turn by themselves

void turn_pages(State& state, DebriefState& mine, int last) {
  if (!state.help && kit::keys_free()) {
    const int before = mine.page;
    if (kit::pressed(Key::left) || kit::pressed(Key::page_up)) --mine.page;
    if (kit::pressed(Key::right) || kit::pressed(Key::page_down)) ++mine.page;
    if (kit::pressed(Key::home)) mine.page = 0;
    if (kit::pressed(Key::end)) mine.page = last;
    if (mine.page != before) mine.running_on = mine.account = false;
    if (kit::pressed(Key::r)) mine.running_on = !mine.running_on;
    if (kit::pressed(Key::s)) mine.account = !mine.account;
  }
  if (!mine.running_on) return;
  state.moving = true;
  mine.turned_s += static_cast<double>(ImGui::GetIO().DeltaTime);
  if (mine.turned_s < kPageSeconds) return;
  mine.turned_s = 0;
  if (++mine.page >= last) mine.running_on = false;
}

void draw_head(State& state, DebriefState& mine, int last) {
  const float s = state.ink.scale;
  const auto next = [&](float room) { ImGui::SameLine(0, room * s); };
  next(24);
  if (kit::pick(state, "pages", say(state, "debrief.pages"), !mine.account)) mine.account = false;
  next(24);
  if (kit::pick(state, "account page", say(state, "debrief.account"), mine.account))
    mine.account = true;
  next(24);
  if (kit::choice(state, "save html", say(state, "debrief.save"))) {
    mine.saved = debrief::save_html(mine, state.settings);
    if (mine.saved.empty()) mine.saved = say(state, "debrief.not saved");
  }
  if (!mine.account) {
    next(40);
    if (kit::choice(state, "page back", "←")) --mine.page;
    next(10);
    kit::mono(state, fmt::format("{} / {}", mine.page, last));
    next(10);
    if (kit::choice(state, "page on", "→")) ++mine.page;
    next(18);
    if (kit::pick(state, "run on", say(state, "debrief.run on"), mine.running_on))
      mine.running_on = !mine.running_on;
  }
  if (!mine.saved.empty()) {
    next(24);
    kit::small_words(state, mine.saved);
  }
}

}  // namespace

void open_debrief(State& state, const std::string& log_path) {
  DebriefState& mine = state.screens->debrief;
  mine = DebriefState{};
  mine.log = log_path;
  score::DebriefOptions options;
  options.home = state.home;
  mine.working = std::async(std::launch::async,
                            [log_path, options] { return score::debrief_file(log_path, options); });
  state.screen = "debrief";
}

void draw_debrief(State& state) {
  DebriefState& mine = state.screens->debrief;
  if (mine.log.empty()) {
    OnSiteState& site = state.screens->on_site;
    if (!site.door) {
      state.screen = "day sheet";
      return;
    }
    open_debrief(state, site.door->log_path());
  }
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float margin = 24 * s;
  ImGui::SetCursorScreenPos({margin, 16 * s});
  if (!ready(state, mine)) {
    kit::heading(state, say(state, "debrief.working"));
    return;
  }
  const bool escape = !state.help && kit::keys_free() && kit::pressed(Key::escape);
  if (kit::choice(state, "back to day sheet", say(state, "debrief.day sheet")) || escape) {
    state.screen = "day sheet";
    return;
  }
  if (!mine.debrief) {
    kit::caution(state, mine.why);
    return;
  }
  take_unit(state, mine);
  if (!mine.asked) {
    draw_asking(state, mine);
    return;
  }
  const int last = static_cast<int>(mine.debrief->pages.size()) - 1;
  draw_head(state, mine, last);
  turn_pages(state, mine, last);
  mine.page = std::clamp(mine.page, 0, std::max(0, last));
  const Place area{margin, 62 * s, all.x - margin, all.y - 14 * s};
  if (mine.account || last < 0)
    debrief::draw_account(state, mine, area);
  else
    debrief::draw_page(state, mine, area);
}

}  // namespace legwork::gui
