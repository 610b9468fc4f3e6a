// The replay on the drawn site: the machine as it was seen at the end of a page, its leads where
// they were. What was not observed by then is neutral, as it was on site.

#include <imgui.h>

#include <algorithm>

#include "engine/circuit/circuit.h"
#include "engine/session/door.h"
#include "gui/kit.h"
#include "gui/screens/debrief.h"
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

void draw_part_of(const State& state, const Scene& scene, Place area,
                  const std::vector<std::string>& leads) {
  if (scene.shapes.empty()) return;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const Camera camera = fit(scene.extent, area, 1.2F * state.ink.scale);
  list.PushClipRect({area.left, area.top}, {area.right, area.bottom}, true);
  draw_scene(scene, camera, state.ink, {}, list);
  for (std::size_t i = 0; i < leads.size() && i < 2; ++i) {
    for (const Terminal& t : scene.terminals) {
      if (t.id != leads[i] || !t.home) continue;
      const ImVec2 at{camera.screen_x(static_cast<float>(t.at.x)),
                      camera.screen_y(static_cast<float>(t.at.y))};
      const unsigned colour = state.ink.theme.packed(i == 0 ? Role::red_lead : Role::black_lead);
      const ImVec2 cord[2] = {{at.x - 26 * state.ink.scale, at.y + 34 * state.ink.scale}, at};
      list.AddPolyline(cord, 2, state.ink.theme.packed(Role::paper), 0, 8 * state.ink.scale);
      list.AddPolyline(cord, 2, colour, 0, 4.5F * state.ink.scale);
      list.AddCircle(at, 11 * camera.zoom, colour, 24, 3 * state.ink.scale);
    }
  }
  list.PopClipRect();
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
  draw_part_of(state, mine.outside, {area.left, area.top, middle - gap / 2, area.bottom}, leads);
  draw_part_of(state, mine.panel, {middle + gap / 2, area.top, area.right, area.bottom}, leads);
}

}  // namespace legwork::gui::debrief
