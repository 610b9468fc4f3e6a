// The replay on the drawn site: the machine as it was seen at the end of a page, its leads where
// they were. What was not observed by then is neutral, as it was on site.

#include <imgui.h>

#include <algorithm>
#include <map>

#include "engine/circuit/circuit.h"
#include "engine/session/door.h"
#include "gui/kit.h"
#include "gui/screens/debrief.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"
#include "gui/sheet/outside.h"
#include "gui/sheet/panel.h"
#include "gui/sheet/sights.h"

namespace legwork::gui::debrief {
namespace {

// The call that the log keeps: the one just worked, or read again.
void fetch_call(State& state, DebriefState& mine) {
  if (mine.call) return;
  const OnSiteState& site = state.screens->on_site;
  if (site.door && site.door->log_path() == mine.log) {
    mine.call = std::make_shared<const session::View>(site.door->view());
    return;
  }
  session::OpenOptions options;
  options.home = state.home;
  const session::Opening opening = session::Door::reopen(mine.log, options);
  if (opening.door) mine.call = std::make_shared<const session::View>(opening.door->view());
}

// One scene in its part of the area; where the leads stand in it goes to `ends`.
void draw_part_of(const State& state, const Scene& scene, Place area,
                  const std::vector<std::string>& leads, std::map<std::string, PointF>& ends) {
  if (scene.shapes.empty()) return;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const Camera camera = fit(scene.extent, area, 1.2F * state.ink.scale);
  list.PushClipRect({area.left, area.top}, {area.right, area.bottom}, true);
  draw_scene(scene, camera, state.ink, {}, list);
  list.PopClipRect();
  for (const Terminal& t : scene.terminals) {
    if (t.home && std::find(leads.begin(), leads.end(), t.id) != leads.end())
      ends[t.id] = {camera.screen_x(static_cast<float>(t.at.x)),
                    camera.screen_y(static_cast<float>(t.at.y))};
  }
}

// The meter under the machine with what it showed, and its leads where they were.
void draw_meter_of(const State& state, Place area, const score::Page& page,
                   const std::vector<std::string>& leads,
                   const std::map<std::string, PointF>& ends) {
  if (leads.empty() || page.shown.empty()) return;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float s = state.ink.scale;
  ImFont* font = state.ink.fonts.mono;
  const std::string shown = spoken(state, page.shown.front());
  const float wide = font->CalcTextSizeA(font->FontSize, 1e9F, 0, shown.c_str()).x + 28 * s;
  const float left = std::floor(area.middle_x() - wide / 2);
  const ImVec2 low{left, area.top}, high{left + wide, area.bottom};
  list.AddRectFilled(low, high, state.ink.theme.packed(Role::plate), 6 * s);
  list.AddRect(low, high, state.ink.theme.packed(Role::ink), 6 * s, 0, 1.5F * s);
  list.AddText(font, font->FontSize,
               {left + 14 * s, std::floor(area.middle_y() - font->FontSize / 2)},
               state.ink.theme.packed(Role::ink), shown.c_str());
  for (std::size_t i = 0; i < leads.size() && i < 2; ++i) {
    const auto end = ends.find(leads[i]);
    if (end == ends.end()) continue;
    on_site::draw_lead(state, {left + wide * (i == 0 ? 0.3F : 0.7F), area.top}, end->second, i == 0,
                       list);
  }
}

}  // namespace

void draw_machine(State& state, DebriefState& mine, Place area) {
  fetch_call(state, mine);
  if (!mine.call || !mine.call->unit) return;
  const score::Page& page = mine.debrief->pages[static_cast<std::size_t>(mine.page)];
  const unit::Unit& unit = *mine.call->unit;
  if (mine.drawn_page != mine.page) {
    mine.drawn_page = mine.page;
    const Sights sights = sights_at(*mine.call, page.at_minute);
    const SceneText text{speech(state)};
    mine.outside = outside(unit, page.place, sights, text);
    mine.panel = sights.covers_off.contains(page.place) ? panel(unit, page.place, sights, text)
                                                        : panel_cover(unit, page.place, text);
  }
  const bool both = !mine.outside.shapes.empty() && !mine.panel.shapes.empty();
  const float gap = 12 * state.ink.scale;
  const float part = !both ? (mine.panel.shapes.empty() ? 1.0F : 0.0F) : 0.34F;
  const float middle = area.left + (area.right - area.left) * part;
  const std::vector<std::string> leads = terminals_in(page.line, unit.circuit);
  const float foot = area.bottom - 34 * state.ink.scale;
  std::map<std::string, PointF> ends;
  draw_part_of(state, mine.outside, {area.left, area.top, middle - gap / 2, foot - gap}, leads,
               ends);
  draw_part_of(state, mine.panel, {middle + gap / 2, area.top, area.right, foot - gap}, leads,
               ends);
  draw_meter_of(state, {area.left, foot, area.right, area.bottom}, page, leads, ends);
}

}  // namespace legwork::gui::debrief
