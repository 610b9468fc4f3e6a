#include "gui/screens/on_site.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "gui/kit.h"
#include "gui/screens/debrief.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/screens.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

session::OpenOptions options_of(const State& state) {
  session::OpenOptions options;
  options.home = state.home;
  return options;
}

void take_view(OnSiteState& mine) {
  mine.view = mine.door->view();
  if (mine.panel_place == mine.view.place) return;
  mine.panel_place = mine.view.place;  // the door lays the sheets out anew
}

// What was heard decides the sounds; the names are those of sound.h.
void sound(State& state, const session::Seen& seen) {
  for (const session::Happening& it : seen.happenings) {
    if (it.what == session::Happens::pulls_in)
      state.sounds.emplace_back("contactor in");
    else if (it.what == session::Happens::drops_out)
      state.sounds.emplace_back("contactor out");
  }
}

}  // namespace

bool open_ticket(State& state, const std::string& scenario, const std::string& log) {
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
  mine.door = std::move(opening.door);
  take_view(mine);
  state.notice = opening.notice;
  state.screen = "on site";
  if (state.works_ahead && !mine.view.closed) making_of(state, mine.door->log_path());
  return true;
}

void give_step(State& state, const std::string& line) {
  OnSiteState& mine = state.screens->on_site;
  if (!mine.door) return;
  const bool rings = line == "ring the shop" && state.works_ahead;
  const session::Outcome outcome =
      mine.door->submit_line(rings ? making_of(state, mine.door->log_path()).ring_line() : line);
  mine.answer.clear();
  mine.harm.clear();
  mine.refused = !outcome.accepted;
  if (mine.refused) mine.answer.push_back(outcome.why);
  for (const session::Observation& o : outcome.seen.observations) {
    if (o.source == session::Source::glance) continue;  // shown where it is seen
    const Message shown = session::shown(o);
    mine.answer.push_back(
        o.state >= 0 ? shown : say("{what}: {shown}", {{"what", Name{o.key}}, {"shown", shown}}));
    if (o.state < 0) mine.shown = shown;
  }
  for (const Message& said : outcome.seen.said) mine.answer.push_back(said);
  for (const session::Happening& it : outcome.seen.happenings)
    mine.answer.push_back(say("{Sentence}.", {{"sentence", session::sentence(it)}}));
  for (const session::Hazard& hazard : outcome.hazards) {
    mine.harm.push_back(hazard.reference.empty()
                            ? hazard.why
                            : say("{why} ({reference})",
                                  {{"why", hazard.why}, {"reference", Name{hazard.reference}}}));
  }
  sound(state, outcome.seen);
  take_view(mine);
  if (state.works_ahead && outcome.accepted) making_of(state, mine.door->log_path()).grown();
  if (outcome.closed) open_debrief(state, mine.door->log_path());
}

void draw_on_site(State& state) {
  OnSiteState& mine = state.screens->on_site;
  if (!mine.door) {
    state.screen = "day sheet";
    return;
  }
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float side = std::clamp(all.x * 0.175F, 232 * s, 310 * s);
  const float pad = mine.pad_open ? std::clamp(all.x * 0.125F, 165 * s, 240 * s) : 34 * s;
  const float gap = 18 * s;
  const float strip = on_site::draw_strip(state, {gap, gap, all.x - gap, 0});
  const float bag = 116 * s;
  const float top = strip + gap;
  const float foot = all.y - bag - gap;
  on_site::draw_here(state, {gap, top, gap + side, foot});
  on_site::draw_pad(state, {all.x - gap - pad, top, all.x - gap, foot});
  on_site::draw_door(state, {gap + side + gap, top, all.x - pad - 2 * gap, foot});
  on_site::draw_bag(state, {gap, foot + gap / 2, all.x - gap, all.y - gap / 2});
  if (!state.help && ImGui::GetIO().KeyCtrl && kit::pressed(Key::f)) state.focus = "find";
  if (!state.help && kit::keys_free()) {
    if (kit::pressed(Key::escape)) {
      if (!mine.hand.empty()) {
        mine.hand.clear();
        mine.red.clear();
        mine.black.clear();
      } else {
        state.screen = "day sheet";
      }
    }
    if (kit::pressed(Key::b)) mine.back = !mine.back;
    if (kit::pressed(Key::t)) mine.ticket_open = !mine.ticket_open;
    if (kit::pressed(Key::p)) mine.pad_open = !mine.pad_open;
    if (kit::pressed(Key::w)) state.screen = "write-up";
    if (kit::pressed(Key::slash)) state.focus = "step";
  }
}

std::span<const Screen> screens_of_on_site() {
  static const Screen kScreens[] = {{"on site",
                                     draw_on_site,
                                     {
                                         {Name{"1 … 9, 0"}, phrase("take an instrument in hand")},
                                         {Name{"C"}, phrase("unfold the P-T card")},
                                         {Name{"B"}, phrase("turn the sheet over")},
                                         {Name{"F"}, phrase("the whole sheet")},
                                         {Name{"P"}, phrase("fold the pad")},
                                         {Name{"T"}, phrase("fold the ticket")},
                                         {Name{"/"}, phrase("write a step")},
                                         {Name{"Ctrl F"}, phrase("find a part or terminal")},
                                         {Name{"W"}, phrase("the write-up")},
                                         {phrase("Ctrl, arrows"), phrase("move the sheet")},
                                         {phrase("wheel, + −"), phrase("nearer and farther")},
                                         {phrase("right button"), phrase("move the sheet")},
                                     }}};
  return kScreens;
}

}  // namespace legwork::gui
