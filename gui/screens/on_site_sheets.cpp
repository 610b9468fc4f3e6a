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
#include "gui/sheet/outside.h"
#include "gui/sheet/panel.h"
#include "gui/sheet/piping.h"

namespace legwork::gui::on_site {
namespace {

constexpr float kReadable = 0.86F;
// Where a sheet is only just seen from rail to rail, its smallest writing may be so small.
constexpr float kLeastReadable = 0.78F;
// The drawn site's smallest type is 12.
constexpr float kSmallestSite = 1.0F;
// A window lower than this, pixels at text 1, opens at the first row of parts.
constexpr float kLow = 480;
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
  if (whole.zoom >= least) return whole;
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

void make_site(State& state) {
  OnSiteState& mine = state.screens->on_site;
  const unit::Unit& unit = *mine.view.unit;
  const std::string& language = state.settings.language;
  const std::string made_for = unit.id + "|" + language;
  // The drawn site: anew with each view, since only a step can change what was observed.
  const bool shut = !mine.sights.covers_off.contains(mine.view.place);
  const std::string site_for =
      fmt::format("{}|{}|{}|{}|{}", made_for, mine.view.place, mine.view_count, state.settings.bar,
                  state.settings.celsius);
  if (mine.paper.site_made_for != site_for) {
    mine.paper.site_made_for = site_for;
    const SceneText text{speech(state)};
    mine.outside = outside(unit, mine.view.place, mine.sights, text);
    mine.panel = shut ? panel_cover(unit, mine.view.place, text)
                      : panel(unit, mine.view.place, mine.sights, text);
  }
}

void lay_sheets(State& state, Place outside_area, Place panel_area, Place sheet_area) {
  OnSiteState& mine = state.screens->on_site;
  const unit::Unit& unit = *mine.view.unit;
  const std::string& language = state.settings.language;
  const double shape = static_cast<double>(sheet_area.right - sheet_area.left) /
                       static_cast<double>(sheet_area.bottom - sheet_area.top);
  // To be seen whole it is laid out in as many columns as its place has room for.
  const bool whole = mine.paper.whole;
  const std::string made_for = unit.id + "|" + language + (whole ? "|whole" : "");
  if (mine.paper.made_for != made_for || std::abs(shape / mine.diagram_shape - 1) > 0.15) {
    const float near = kReadable * state.ink.scale;
    mine.diagram = ladder(
        unit, {shape, whole ? 0 : static_cast<int>((sheet_area.right - sheet_area.left) / near),
               speech(state)});
    mine.piping = piping(unit, speech(state));
    mine.diagram_shape = shape;
    mine.paper.made_for = made_for;
    mine.diagram_fitted = mine.piping_fitted = false;
  }
  const bool shut = !mine.sights.covers_off.contains(mine.view.place);
  if (mine.paper.stood != mine.view.place || mine.paper.shut != shut) {
    if (mine.paper.stood != mine.view.place) mine.diagram_fitted = false;
    mine.paper.stood = mine.view.place;
    mine.paper.shut = shut;
    mine.panel_fitted = mine.outside_fitted = false;
  }
  if (!same(mine.diagram_area, sheet_area)) {
    mine.diagram_fitted = mine.piping_fitted = false;
    mine.diagram_area = sheet_area;
  }
  if (!same(mine.panel_area, panel_area)) mine.panel_fitted = false;
  if (!same(mine.outside_area, outside_area)) mine.outside_fitted = false;
  mine.panel_area = panel_area;
  mine.outside_area = outside_area;
  const float readable = readable_in(state, sheet_area);
  if (!mine.diagram_fitted) {
    mine.diagram_camera = mine.paper.whole
                              ? fit(mine.diagram.extent, sheet_area)
                              : near_enough(mine.diagram, within_reach(mine, mine.diagram),
                                            sheet_area, readable, kLeastReadable * state.ink.scale);
    mine.diagram_fitted = true;
  }
  if (!mine.piping_fitted) {
    mine.piping_camera = fit(mine.piping.extent, sheet_area);
    mine.piping_fitted = true;
  }
  const auto open_site = [&](const Scene& scene, Place area, Camera& camera, bool& fitted,
                             bool whole) {
    if (fitted || scene.shapes.empty() || area.right <= area.left) return;
    fitted = true;
    const float s = state.ink.scale;
    camera = fit(scene.extent, area, kLargestSite * s);
    // Large text in a low window: between what was asked for and a whole row of parts.
    const bool low = area.bottom - area.top <= kLow * s;
    const float smallest =
        kSmallestSite * (low ? std::min(1.0F, s) + std::max(0.0F, s - 1) / 3 : s);
    if (whole || mine.paper.whole || camera.zoom >= smallest) return;
    // As wide as can be read; from the upper left on.
    const float across =
        (area.right - area.left) / static_cast<float>(scene.extent.right - scene.extent.left);
    camera.zoom = std::max(smallest, std::min(across, 1.2F * s));
    camera.x = std::floor(area.left - camera.zoom * static_cast<float>(scene.extent.left));
    camera.y = std::floor(area.top - camera.zoom * static_cast<float>(scene.extent.top));
    // A low window opens at the first row of parts, not at what comes in over it.
    if (!low || &scene != &mine.panel) return;
    int first = scene.extent.bottom;
    for (const Target& target : scene.targets) {
      if (!target.id.starts_with('!')) first = std::min(first, target.box.top);
    }
    constexpr int kOver = 40;  // sheet units over a row: its sleeves
    if (first < scene.extent.bottom)
      camera.y = std::floor(area.top - camera.zoom * static_cast<float>(first - kOver));
  };
  open_site(mine.panel, panel_area, mine.panel_camera, mine.panel_fitted, shut);
  open_site(mine.outside, outside_area, mine.outside_camera, mine.outside_fitted, false);
}

void show_whole(State& state, bool whole) {
  OnSiteState& mine = state.screens->on_site;
  mine.paper.whole = whole;
  mine.diagram_fitted = mine.piping_fitted = false;
  mine.panel_fitted = mine.outside_fitted = false;
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
  // Beside it on the machine, if it stands here.
  const auto bring = [&](const Scene& part, Place area, Camera& it) {
    if (area.right <= area.left) return;
    for (const Target& target : part.targets) {
      if (!starts_with(target.id, mine.find)) continue;
      if (mine.found.empty()) mine.found = target.id;
      const Box& box = target.box;
      it.x = std::floor(area.middle_x() - it.zoom * static_cast<float>(box.left + box.right) / 2);
      it.y = std::floor(area.middle_y() - it.zoom * static_cast<float>(box.top + box.bottom) / 2);
      return;
    }
  };
  const bool on_sheet = !mine.found.empty();
  bring(mine.panel, mine.panel_area, mine.panel_camera);
  bring(mine.outside, mine.outside_area, mine.outside_camera);
  if (!on_sheet) return;
  Camera& camera = mine.back ? mine.piping_camera : mine.diagram_camera;
  camera.zoom = std::max(camera.zoom, readable_in(state, mine.diagram_area));
  const Place& area = mine.diagram_area;
  camera.x = std::floor(area.middle_x() - camera.zoom * static_cast<float>(at.x));
  camera.y = std::floor(area.middle_y() - camera.zoom * static_cast<float>(at.y));
}

}  // namespace legwork::gui::on_site
