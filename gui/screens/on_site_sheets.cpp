// The door's sheets: laid out for the room they have, opened where one stands.

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "engine/circuit/circuit.h"
#include "engine/unit/unit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"
#include "gui/sheet/ladder.h"
#include "gui/sheet/panel.h"
#include "gui/sheet/piping.h"

namespace legwork::gui::on_site {
namespace {

constexpr float kReadable = 0.86F;
// Where a sheet is only just seen from rail to rail, its smallest writing may be so small.
constexpr float kLeastReadable = 0.78F;
constexpr int kBareMargin = 16;  // of a sheet's own margin, at each side, that may be out of sight

// Zoom at which the smallest writing can be read; a little less in little room.
float readable_in(const State& state, const Place& area) {
  const float s = state.ink.scale;
  return s * std::clamp((area.right - area.left) / (640 * s), kReadable, 0.96F);
}

bool same(const Place& a, const Place& b) {
  return std::abs(a.left - b.left) < 1 && std::abs(a.right - b.right) < 1 &&
         std::abs(a.top - b.top) < 1 && std::abs(a.bottom - b.bottom) < 1;
}

// What can be reached from here on that sheet; the whole sheet if nothing can.
Box within_reach(const OnSiteState& mine, const Scene& scene) {
  Box box{1 << 20, 1 << 20, -(1 << 20), -(1 << 20)};
  for (const Terminal& t : scene.terminals) {
    if (!t.home) continue;
    const circuit::TerminalId id = mine.view.unit->circuit.find_terminal(t.id);
    if (!id.valid() || id.slot() >= mine.view.terminals.size() ||
        mine.view.terminals[id.slot()].place != mine.view.place) {
      continue;
    }
    box = {std::min(box.left, t.at.x), std::min(box.top, t.at.y), std::max(box.right, t.at.x),
           std::max(box.bottom, t.at.y)};
  }
  if (box.left > box.right) return scene.extent;
  return {box.left - 110, box.top - 50, box.right + 110, box.bottom + 50};
}

// No empty desk beside a sheet that is larger than its place; a smaller one is seen whole.
Camera filled(Camera camera, const Box& extent, const Place& area) {
  const auto kept = [&](float at, int low, int high, float near, float far) {
    const float first = near - camera.zoom * static_cast<float>(low);
    const float last = far - camera.zoom * static_cast<float>(high);
    return std::floor(std::clamp(at, std::min(first, last), std::max(first, last)));
  };
  camera.x = kept(camera.x, extent.left, extent.right, area.left, area.right);
  camera.y = kept(camera.y, extent.top, extent.bottom, area.top, area.bottom);
  return camera;
}

// The whole sheet if that can be read; otherwise readable, from the upper left of `part` on, or
// with it in the middle where it fits.
Camera near_enough(const Scene& scene, const Box& part, Place area, float readable, float least) {
  const Camera whole = fit(scene.extent, area, 1.5F * readable);
  if (whole.zoom >= readable) return whole;
  // A little smaller, if both rails are then in sight.
  const float across = (area.right - area.left) /
                       static_cast<float>(scene.extent.right - scene.extent.left - 2 * kBareMargin);
  if (across >= least) readable = std::min(readable, across);
  Camera camera = fit(part, area, readable);
  if (camera.zoom >= readable) return filled(camera, scene.extent, area);
  camera.zoom = readable;
  const auto from = [&](int low, int high, float near, float far) {
    const float length = static_cast<float>(high - low) * readable;
    if (length <= far - near) {
      return std::floor((near + far) / 2 - readable * static_cast<float>(low + high) / 2);
    }
    return std::floor(near - readable * static_cast<float>(low));
  };
  camera.x = from(part.left, part.right, area.left, area.right);
  camera.y = from(part.top, part.bottom, area.top, area.bottom);
  camera = filled(camera, scene.extent, area);
  const float spare = static_cast<float>(kBareMargin) * readable;
  if (camera.x <= area.left &&
      camera.screen_x(static_cast<float>(scene.extent.right)) <= area.right + 2 * spare)
    camera.x = std::floor(area.left - spare - readable * static_cast<float>(scene.extent.left));
  return camera;
}

bool starts_with(const std::string& name, const std::string& typed) {
  return name.size() >= typed.size() &&
         std::equal(typed.begin(), typed.end(), name.begin(), [](char a, char b) {
           return std::toupper(static_cast<unsigned char>(a)) ==
                  std::toupper(static_cast<unsigned char>(b));
         });
}

}  // namespace

const Terminal* terminal_on(const Scene& scene, const std::string& id) {
  const Terminal* any = nullptr;
  for (const Terminal& t : scene.terminals) {
    if (t.id != id) continue;
    if (t.home) return &t;
    if (any == nullptr) any = &t;
  }
  return any;
}

void lay_sheets(State& state, Place sheet_area, Place panel_area) {
  OnSiteState& mine = state.screens->on_site;
  const unit::Unit& unit = *mine.view.unit;
  const std::string& language = state.settings.language;
  const double shape = static_cast<double>(sheet_area.right - sheet_area.left) /
                       static_cast<double>(sheet_area.bottom - sheet_area.top);
  const std::string made_for = unit.id + "|" + language;
  if (mine.paper.made_for != made_for || std::abs(shape / mine.diagram_shape - 1) > 0.15) {
    const float near = kReadable * state.ink.scale;
    mine.diagram = ladder(
        unit,
        {shape, static_cast<int>((sheet_area.right - sheet_area.left) / near), speech(state)});
    mine.piping = piping(unit, speech(state));
    mine.diagram_shape = shape;
    mine.paper.made_for = made_for;
    mine.diagram_fitted = mine.piping_fitted = false;
  }
  // As wide as can be read in the room there is.
  const float readable = readable_in(state, sheet_area);
  const int panel_wide = std::clamp(
      static_cast<int>((panel_area.right - panel_area.left) / (0.95F * readable)) - 34, 150, 520);
  const std::string panel_for = fmt::format("{}|{}|{}", made_for, mine.view.place, panel_wide);
  if (mine.paper.panel_made_for != panel_for) {
    mine.panel = panel(unit, mine.view.place, sights_of(mine.view), {speech(state)});
    mine.paper.panel_made_for = panel_for;
    mine.panel_fitted = false;
  }
  if (mine.paper.stood != mine.view.place) {
    mine.paper.stood = mine.view.place;
    mine.diagram_fitted = false;
  }
  if (!same(mine.diagram_area, sheet_area)) {
    mine.diagram_fitted = mine.piping_fitted = mine.panel_fitted = false;
    mine.diagram_area = sheet_area;
  }
  if (!mine.diagram_fitted) {
    mine.diagram_camera = mine.paper.whole
                              ? fit(mine.diagram.extent, sheet_area)
                              : near_enough(mine.diagram, within_reach(mine, mine.diagram),
                                            sheet_area, readable, kLeastReadable * state.ink.scale);
    mine.diagram_fitted = true;
    mine.paper.led_to.clear();  // the leads are looked for anew
  }
  if (!mine.piping_fitted) {
    mine.piping_camera = fit(mine.piping.extent, sheet_area);
    mine.piping_fitted = true;
  }
  if (!mine.panel_fitted) {
    // As wide as there is room; from the top of the place where one stands.
    Box wide = mine.panel.extent;
    wide.bottom = wide.top + 1;
    mine.panel_camera = fit(wide, panel_area, 1.3F);
    const bool whole = mine.paper.whole;
    if (whole) mine.panel_camera = fit(mine.panel.extent, panel_area);
    if (!whole) {
      mine.panel_camera.y =
          std::floor(panel_area.top - mine.panel_camera.zoom * static_cast<float>(wide.top));
    }
    mine.panel_fitted = true;
  }
}

void show_whole(State& state, bool whole) {
  OnSiteState& mine = state.screens->on_site;
  mine.paper.whole = whole;
  mine.diagram_fitted = mine.piping_fitted = mine.panel_fitted = false;
}

void show_leads(State& state) {
  OnSiteState& mine = state.screens->on_site;
  const std::string led_to = mine.red + " " + mine.black;
  if (mine.paper.led_to == led_to || mine.dragging >= 0) return;
  mine.paper.led_to = led_to;
  const Scene& scene = mine.back ? mine.piping : mine.diagram;
  Camera& camera = mine.back ? mine.piping_camera : mine.diagram_camera;
  const Place& area = mine.diagram_area;
  Box both{1 << 20, 1 << 20, -(1 << 20), -(1 << 20)};
  bool seen = true;
  for (const std::string& id : {mine.red, mine.black}) {
    const Terminal* t = id.empty() ? nullptr : terminal_on(scene, id);
    if (t == nullptr) continue;
    both = {std::min(both.left, t->at.x), std::min(both.top, t->at.y),
            std::max(both.right, t->at.x), std::max(both.bottom, t->at.y)};
    const float x = camera.screen_x(static_cast<float>(t->at.x));
    const float y = camera.screen_y(static_cast<float>(t->at.y));
    seen = seen && x > area.left && x < area.right && y > area.top && y < area.bottom;
  }
  if (seen) return;
  // Both in the middle; farther off if they are far apart.
  const Box round{both.left - 160, both.top - 120, both.right + 160, both.bottom + 120};
  camera = filled(fit(round, area, camera.zoom), scene.extent, area);
  ++mine.paper.moved;
}

void find_on(State& state) {
  OnSiteState& mine = state.screens->on_site;
  if (mine.paper.found_shown == mine.find) return;
  mine.paper.found_shown = mine.find;
  mine.found.clear();
  if (mine.find.empty()) return;
  const Scene& scene = mine.back ? mine.piping : mine.diagram;
  Point at{};
  for (const Terminal& t : scene.terminals) {
    const std::string name = t.id.substr(t.id[0] == '@' ? 1 : 0);
    if (mine.found.empty() && t.home && starts_with(name, mine.find)) {
      mine.found = t.id;
      at = t.at;
    }
  }
  // A device before one of its terminals, until a terminal is typed.
  for (const Symbol& symbol : scene.symbols) {
    if (!symbol.id.empty() && starts_with(symbol.id, mine.find)) {
      mine.found = symbol.id;
      at = symbol.at;
      break;
    }
  }
  if (mine.found.empty()) return;
  ++mine.paper.moved;
  Camera& camera = mine.back ? mine.piping_camera : mine.diagram_camera;
  camera.zoom = std::max(camera.zoom, readable_in(state, mine.diagram_area));
  const Place& area = mine.diagram_area;
  camera.x = std::floor(area.middle_x() - camera.zoom * static_cast<float>(at.x));
  camera.y = std::floor(area.middle_y() - camera.zoom * static_cast<float>(at.y));
}

}  // namespace legwork::gui::on_site
