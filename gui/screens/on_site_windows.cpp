// The three windows on the machine: outside, the compartment, the door with its sheet; and what the
// pointer does there.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "engine/circuit/circuit.h"
#include "engine/circuit/kinds.h"
#include "engine/unit/unit.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"
#include "gui/sheet/ladder.h"
#include "gui/sheet/panel.h"

namespace legwork::gui::on_site {
namespace {

// The lead whose probe is under the pointer; -1: none.
int gripped(const OnSiteState& mine, ImVec2 at) {
  for (int i = 0; i < 2; ++i) {
    if (holds(mine.paper.grips[i], at.x, at.y)) return i;
  }
  return -1;
}

// What cannot be reached from here; a part when none of its terminals can.
void note_faint(OnSiteState& mine) {
  const std::string key = fmt::format("{} {}", mine.view.place, mine.view_count);
  if (mine.paper.faint_for == key) return;
  mine.paper.faint_for = key;
  std::set<std::string>& faint = mine.paper.faint;
  faint.clear();
  const circuit::Circuit& circuit = mine.view.unit->circuit;
  std::vector<bool> near(circuit.devices.size(), false);
  for (std::size_t i = 0; i < mine.view.terminals.size() && i < circuit.terminals.size(); ++i) {
    if (!mine.view.terminals[i].reachable) {
      faint.insert(mine.view.terminals[i].name);
    } else if (circuit.terminals[i].device.valid()) {
      near[circuit.terminals[i].device.slot()] = true;
    }
  }
  for (const circuit::Wire& wire : circuit.wires) {
    if (faint.count(circuit.terminals[wire.from.slot()].name) +
            faint.count(circuit.terminals[wire.to.slot()].name) ==
        2) {
      faint.insert(wire.name);
    }
  }
  for (std::size_t i = 0; i < near.size(); ++i) {
    if (!near[i]) faint.insert(circuit.devices[i].name);
  }
}

Emphasis emphasis_of(const State& state, OnSiteState& mine, const Hit& under) {
  note_faint(mine);
  Emphasis emphasis;
  emphasis.faint = mine.paper.faint;
  emphasis.spin = static_cast<float>(mine.spin);
  // A carrier takes a tenth of a second; the first picture still shows it where it was.
  constexpr double kCarrier = 0.15;  // seconds
  if (!state.settings.calm && mine.since_step_s < kCarrier) {
    for (const std::string& id : mine.started)
      emphasis.away[id] = static_cast<float>(1 - mine.since_step_s / kCarrier);
  }
  if (under.what != Hit::What::nothing) emphasis.lit.insert(under.id);
  for (const std::string* id : {&mine.found, &mine.red, &mine.black, &mine.slip, &mine.cursor}) {
    if (!id->empty()) emphasis.lit.insert(*id);
  }
  return emphasis;
}

// Rings on a sheet where the leads are, and where the keys stand.
void mark_terminals(const State& state, const OnSiteState& mine, const Sheet& sheet,
                    ImDrawList& list) {
  const auto ring = [&](const std::string& id, Role role, float out) {
    const Terminal* t = id.empty() ? nullptr : terminal_on(*sheet.scene, id);
    if (t == nullptr) return;
    list.AddCircle({sheet.camera->screen_x(static_cast<float>(t->at.x)),
                    sheet.camera->screen_y(static_cast<float>(t->at.y))},
                   std::max(8.0F, 11 * sheet.camera->zoom) + out, state.ink.theme.packed(role), 24,
                   2.5F * state.ink.scale);
  };
  ring(mine.red, Role::red_lead, 0);
  ring(mine.black, Role::black_lead, 0);
  ring(mine.cursor, Role::pen, 3);
}

// By name for tests and the guide: where a thing can be touched on this page.
void remember_things(State& state, const std::vector<Sheet>& sheets) {
  const auto note = [&](const std::string& name, const Sheet& on, float x, float y, float r) {
    const float px = on.camera->screen_x(x), py = on.camera->screen_y(y);
    if (holds(on.area, px, py)) state.places.emplace(name, Place{px - r, py - r, px + r, py + r});
  };
  for (auto it = sheets.rbegin(); it != sheets.rend(); ++it) {
    const bool machine = it + 1 != sheets.rend() || sheets.size() == 1;
    (void)machine;
    for (const bool home : {true, false}) {
      for (const Terminal& t : it->scene->terminals) {
        if (t.home != home) continue;
        const auto x = static_cast<float>(t.at.x), y = static_cast<float>(t.at.y);
        note("terminal " + t.id, *it, x, y, 4);
        if (t.screw) note("screw " + t.id, *it, x, y, 4);
      }
    }
    for (const Target& target : it->scene->targets) {
      const Place at = place_on(*it, target.box);
      // Where its body can be pressed: low in its middle, clear of screws and neighbours.
      const float x = at.middle_x(), y = at.top + (at.bottom - at.top) * 0.55F;
      if (holds(it->area, x, y))
        state.places.emplace("part " + target.id, Place{x - 4, y - 4, x + 4, y + 4});
    }
    for (const Wire& wire : it->scene->wires) {
      if (!wire.routed) continue;
      int longest = 0;
      Point at{};
      for (std::size_t n = 0; n + 1 < wire.points.size(); ++n) {
        const Point a = wire.points[n], b = wire.points[n + 1];
        const int length = std::abs(a.x - b.x) + std::abs(a.y - b.y);
        const Point middle{(a.x + b.x) / 2, (a.y + b.y) / 2};
        const float px = it->camera->screen_x(static_cast<float>(middle.x));
        const float py = it->camera->screen_y(static_cast<float>(middle.y));
        if (length > longest && holds(it->area, px, py)) {
          longest = length;
          at = middle;
        }
      }
      if (longest > 0)
        note("wire " + wire.id, *it, static_cast<float>(at.x), static_cast<float>(at.y), 2);
    }
  }
}

// What lies beyond an edge of a window, named on the edge; clicking it goes there.
void draw_edges(State& state, const Sheet& sheet, Camera& camera, const char* name) {
  const float s = state.ink.scale;
  std::string beyond[4];  // up, down, left, right
  float reach[4] = {0, 0, 0, 0};
  int count[4] = {0, 0, 0, 0};
  // Parts of the drawn site; on the sheet the parts by their symbols, each once.
  std::vector<Target> things;
  std::set<std::string> named;
  for (const Target& target : sheet.scene->targets) {
    if (!target.id.starts_with('!')) things.push_back(target);
  }
  if (things.empty()) {
    for (const Symbol& symbol : sheet.scene->symbols) {
      if (symbol.id.empty()) continue;
      const std::string part = symbol.id.substr(0, symbol.id.find('.'));
      const Place at = place_on(sheet, cover(symbol));
      // One that is in sight somewhere is not beyond.
      if (holds(sheet.area, at.middle_x(), at.middle_y())) named.insert(part);
    }
    for (const Symbol& symbol : sheet.scene->symbols) {
      if (symbol.id.empty()) continue;
      const std::string part = symbol.id.substr(0, symbol.id.find('.'));
      if (named.insert(part).second) things.push_back({part, cover(symbol)});
    }
  }
  for (const Target& target : things) {
    const Place at = place_on(sheet, target.box);
    const float x = at.middle_x(), y = at.middle_y();
    int side = -1;
    if (y < sheet.area.top) side = 0;
    if (y > sheet.area.bottom) side = 1;
    if (side < 0 && x < sheet.area.left) side = 2;
    if (side < 0 && x > sheet.area.right) side = 3;
    if (side < 0) continue;
    const float far = side == 0   ? sheet.area.top - at.top
                      : side == 1 ? at.bottom - sheet.area.bottom
                      : side == 2 ? sheet.area.left - at.left
                                  : at.right - sheet.area.right;
    reach[side] = std::max(reach[side], far);
    if (++count[side] <= 4) beyond[side] += (beyond[side].empty() ? "" : " · ") + target.id;
  }
  std::vector<PointF> screws;  // that have a lead
  for (const std::string* id : {&state.screens->on_site.red, &state.screens->on_site.black}) {
    if (const Terminal* t = id->empty() ? nullptr : terminal_on(*sheet.scene, *id); t != nullptr)
      screws.push_back({sheet.camera->screen_x(static_cast<float>(t->at.x)),
                        sheet.camera->screen_y(static_cast<float>(t->at.y))});
  }
  static constexpr const char* kSigns[] = {"↑ ", "↓ ", "← ", "→ "};
  static constexpr const char* kNames[] = {"up", "down", "left", "right"};
  for (int side = 0; side < 4; ++side) {
    if (count[side] == 0) continue;
    const std::string text =
        kSigns[side] + beyond[side] + (count[side] > 4 ? fmt::format(" +{}", count[side] - 4) : "");
    ImFont* font = state.ink.fonts.small;
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e9F, 0, text.c_str());
    const float wide = std::min(size.x + 12 * s, sheet.area.right - sheet.area.left - 8 * s);
    const float high = std::max(24.0F, 24 * s);
    const Place& a = sheet.area;
    // On an upper or lower edge where no lead stands.
    float along = a.middle_x() - wide / 2;
    const auto hides = [&](float left) {
      return std::any_of(screws.begin(), screws.end(), [&](const PointF& p) {
        return p.x > left - 20 * s && p.x < left + wide + 20 * s &&
               std::abs(p.y - (side == 0 ? a.top : a.bottom)) < high + 12 * s;
      });
    };
    // The power legs of a sheet stand at its left.
    const bool sheet_side = side < 2 && name == std::string_view("sheet");
    if (sheet_side) along = a.right - wide - 4;
    for (const float part : {0.5F, 0.2F, 0.8F}) {
      const float left = a.left + 4 + part * (a.right - a.left - wide - 8);
      if (hides(along)) along = left;
    }
    const float x = side == 2 ? a.left + 2 : side == 3 ? a.right - wide - 2 : along;
    const float y = side == 0   ? a.top + 1
                    : side == 1 ? a.bottom - high - 1
                                : a.middle_y() - high / 2;
    ImGui::SetCursorScreenPos({std::floor(x), std::floor(y)});
    ImGui::PushID(name);
    ImGui::PushID(side);
    if (ImGui::InvisibleButton("beyond", {wide, high})) {
      const float step = 0.8F * (side < 2 ? a.bottom - a.top : a.right - a.left);
      const float by = std::min(step, reach[side] + 20 * s);
      camera.x += side == 2 ? by : side == 3 ? -by : 0;
      camera.y += side == 0 ? by : side == 1 ? -by : 0;
    }
    ImGui::PopID();
    ImGui::PopID();
    const bool near = ImGui::IsItemHovered();
    kit::remember(state, fmt::format("beyond {} {}", name, kNames[side]));
    state.screens->on_site.paper.hung.push_back({x, y, x + wide, y + high});
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled({std::floor(x), std::floor(y)}, {std::floor(x + wide), std::floor(y + high)},
                       state.ink.theme.packed(Role::paper));
    list.PushClipRect({x, y}, {x + wide, y + high}, true);
    list.AddText(font, font->FontSize, {std::floor(x + 6 * s), std::floor(y + (high - size.y) / 2)},
                 state.ink.theme.packed(near ? Role::pen : Role::dim), text.c_str());
    list.PopClipRect();
  }
}

// The line over the sheet: turning, fitting, finding.
void draw_handles(State& state, OnSiteState& mine, Place area) {
  const float s = state.ink.scale;
  ImGui::SetCursorScreenPos({area.left, area.top});
  if (kit::choice(state, "turn over",
                  mine.back ? phrase("Turn to the diagram") : phrase("Turn over to the piping")))
    mine.back = !mine.back;
  ImGui::SameLine(0, 18 * s);
  if (kit::choice(state, "fit",
                  mine.paper.whole ? phrase("Near enough to read") : phrase("The whole sheet")) ||
      (kit::keys_free() && !ImGui::GetIO().KeyCtrl && kit::pressed(Key::f))) {
    show_whole(state, !mine.paper.whole);
  }
  ImGui::SameLine(0, 18 * s);
  ImGui::PushAllowKeyboardFocus(false);
  const float left = area.right - ImGui::GetCursorScreenPos().x;
  kit::field(state, "find", mine.find, std::clamp(left, 60 * s, 130 * s), phrase("find"));
  ImGui::PopAllowKeyboardFocus();
}

void frame_round(State& state, ImDrawList& list, const Place& at, float width) {
  list.AddRect({std::floor(at.left) + 0.5F, std::floor(at.top) + 0.5F},
               {std::floor(at.right) + 0.5F, std::floor(at.bottom) + 0.5F},
               state.ink.theme.packed(Role::ink), 0, 0, width);
}

// The door of the compartment: its edge, hinges, and the tape that holds the sheet.
void draw_door_leaf(State& state, ImDrawList& list, const Place& at) {
  const float s = state.ink.scale;
  frame_round(state, list, at, 1.5F);
  for (const float part : {0.08F, 0.86F}) {
    const float y = at.top + part * (at.bottom - at.top);
    list.AddRectFilled({at.left - 5 * s, y}, {at.left + 5 * s, y + 26 * s},
                       state.ink.theme.packed(Role::paper));
    list.AddRect({at.left - 5 * s, y}, {at.left + 5 * s, y + 26 * s},
                 state.ink.theme.packed(Role::ink), 2);
  }
}

// Folded: what stands outside as a strip of names and states.
void draw_folded(State& state, OnSiteState& mine, Place area) {
  const float s = state.ink.scale;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  frame_round(state, list, area, 1);
  ImGui::SetCursorScreenPos({area.left + 6 * s, area.top + 4 * s});
  ImGui::BeginChild("folded", {area.right - area.left - 10 * s, area.bottom - area.top - 8 * s},
                    false, ImGuiWindowFlags_NavFlattened | ImGuiWindowFlags_NoScrollbar);
  if (kit::choice(state, "unfold outside", phrase("Outside"))) mine.outside_open = true;
  for (const Target& target : mine.outside.targets) {
    if (target.id.starts_with('!')) continue;
    kit::gap(state, 3);
    if (kit::choice(state, "part " + target.id, Name{target.id})) {
      const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
      open_slip(mine, target.id, {low.x, low.y, high.x, high.y});
    }
    const Sight* sight = mine.sights.of(target.id);
    kit::small_words(state, Name{sight == nullptr ? "–" : seen_word(state, sight->how)});
  }
  ImGui::EndChild();
}

}  // namespace

Place place_on(const Sheet& sheet, const Box& box) {
  const Camera& c = *sheet.camera;
  return {c.screen_x(static_cast<float>(box.left)), c.screen_y(static_cast<float>(box.top)),
          c.screen_x(static_cast<float>(box.right)), c.screen_y(static_cast<float>(box.bottom))};
}

std::vector<Sheet> open_sheets(const OnSiteState& mine) {
  std::vector<Sheet> list;
  const auto there = [](const Place& p) { return p.right > p.left + 20; };
  if (there(mine.outside_area) && !mine.outside.shapes.empty())
    list.push_back({&mine.outside, &mine.outside_camera, mine.outside_area});
  if (there(mine.panel_area) && !mine.panel.shapes.empty())
    list.push_back({&mine.panel, &mine.panel_camera, mine.panel_area});
  list.push_back({mine.back ? &mine.piping : &mine.diagram,
                  mine.back ? &mine.piping_camera : &mine.diagram_camera, mine.diagram_area});
  return list;
}

bool where_is(const OnSiteState& mine, const std::string& terminal, PointF& at, bool& in_sight,
              Place& window) {
  for (const Sheet& sheet : open_sheets(mine)) {
    const Terminal* t = terminal_on(*sheet.scene, terminal);
    if (t == nullptr) continue;
    at = {sheet.camera->screen_x(static_cast<float>(t->at.x)),
          sheet.camera->screen_y(static_cast<float>(t->at.y))};
    in_sight = holds(sheet.area, at.x, at.y);
    window = sheet.area;
    at.x = std::clamp(at.x, sheet.area.left + 4, sheet.area.right - 4);
    at.y = std::clamp(at.y, sheet.area.top + 4, sheet.area.bottom - 4);
    return true;
  }
  return false;
}

void open_slip(OnSiteState& mine, const std::string& id, Place beside, const std::string& screw) {
  mine.slip = id;
  mine.slip_beside = beside;
  mine.at_screw = screw;
}

void draw_windows(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  make_site(state);
  const float s = state.ink.scale;
  const float wide = area.right - area.left, gap = 12 * s;
  const bool small = is_small(state);
  const bool panel_here = has_panel(*mine.view.unit, mine.view.place);
  const bool shut = panel_here && !mine.sights.covers_off.contains(mine.view.place);
  const bool bare = mine.outside.shapes.empty();
  // How the room is shared: outside, panel, door.
  const float outside_wide =
      static_cast<float>(mine.outside.extent.right - mine.outside.extent.left) * s + 4;
  float out = bare ? 0 : std::clamp((outside_wide + gap) / wide, 0.18F, 0.32F);
  // The sheet has what its rungs need, the panel the rest.
  const float sheet_wide = 584 * s;
  float inner = panel_here ? std::clamp(1 - out - sheet_wide / wide, 0.3F, 0.60F * (1 - out)) : 0;
  constexpr float kCover = 0.15F;  // of the width, for a compartment that is shut
  const auto as_it_needs = [&](float beside) {
    return std::clamp((outside_wide + gap) / wide, 0.32F,
                      std::max(0.32F, 1 - beside - sheet_wide / wide));
  };
  // What a compartment cannot fill is the sheet's.
  if (const Box& it = mine.panel.extent; panel_here && !shut && it.bottom > it.top) {
    const std::string key = mine.view.unit->id + mine.view.place;
    float& most = mine.paper.panel_wide;
    if (mine.paper.panel_for != key) {
      mine.paper.panel_for = key;
      most = static_cast<float>(it.right - it.left);
    }
    const float zoom = std::min(kLargestSite * s,
                                (area.bottom - area.top) / static_cast<float>(it.bottom - it.top));
    inner = std::min(inner, std::max(0.3F, (most * std::max(zoom, s) + 20 * s + gap) / wide));
  }
  if (shut) {
    out = bare ? 0 : as_it_needs(kCover);
    inner = kCover;
  } else if (!panel_here) {
    out = bare ? 0 : std::max(0.46F, as_it_needs(0));
  } else if (small) {
    out = 0;
    inner = 0.39F;
  }
  const bool folded = small && panel_here && !shut && !bare;
  const float strip = folded ? 96 * s : 0;
  if (folded && mine.outside_open) {
    out = 0.44F;
    inner = 0;
  }
  const Place outside{area.left + (strip > 0 ? strip + gap : 0), area.top,
                      area.left + (strip > 0 ? strip + gap : 0) + (out > 0 ? out * wide - gap : 0),
                      area.bottom};
  const float after = out > 0 ? outside.right + gap : outside.left;
  const Place panel{after, area.top, after + (inner > 0 ? inner * wide - gap : 0), area.bottom};
  const float door = inner > 0 ? panel.right + gap : after;
  const Place leaf{door, area.top, area.right, area.bottom};
  const Place sheet_area{leaf.left + 8 * s, leaf.top + 34 * s, leaf.right - 4 * s,
                         leaf.bottom - 4 * s};
  lay_sheets(state, outside, panel, sheet_area);
  draw_door_leaf(state, *ImGui::GetWindowDrawList(), leaf);
  draw_handles(state, mine, {leaf.left + 12 * s, leaf.top + 3 * s, leaf.right - 8 * s, 0});
  if (folded) {
    if (mine.outside_open) {
      ImGui::SetCursorScreenPos({area.left, area.top});
      if (kit::choice(state, "fold outside", phrase("Back to the panel")))
        mine.outside_open = false;
    } else {
      draw_folded(state, mine, {area.left, area.top, area.left + strip, area.bottom});
    }
  }
  find_on(state);
  follow_reading(mine);

  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const std::vector<Sheet> sheets = open_sheets(mine);
  const bool wires_first = touch_of(mine.hand) == Touch::around_a_wire;
  Hit under;
  const Sheet* on = nullptr;
  for (const Sheet& sheet : sheets) {
    if (!holds(sheet.area, mouse.x, mouse.y)) continue;
    under = hit(*sheet.scene, *sheet.camera, mouse.x, mouse.y, wires_first);
    on = &sheet;
  }
  for (const Place& it : mine.paper.hung) {
    if (holds(it, mouse.x, mouse.y)) under = {};  // it lies under what hangs there
  }
  const bool covered = holds(mine.slip_at, mouse.x, mouse.y) && !mine.slip.empty();
  if (covered || mine.steps_open || mine.pad_open) under = {};
  mine.paper.hung.clear();

  ImDrawList& list = *ImGui::GetWindowDrawList();
  const Emphasis emphasis = emphasis_of(state, mine, under);
  for (const Sheet& sheet : sheets) {
    list.PushClipRect({sheet.area.left, sheet.area.top}, {sheet.area.right, sheet.area.bottom},
                      true);
    draw_scene(*sheet.scene, *sheet.camera, state.ink, emphasis, list);
    mark_terminals(state, mine, sheet, list);
    if (sheet.scene == &mine.diagram || sheet.scene == &mine.piping) draw_tags(state, sheet, list);
    list.PopClipRect();
    if (sheet.scene == &mine.outside || sheet.scene == &mine.panel)
      frame_round(state, list, sheet.area, 1);
  }
  list.PushClipRect({area.left, area.top}, {area.right, area.bottom}, true);
  draw_gauges(state, sheets.front().scene == &mine.outside ? sheets.front().area : sheet_area,
              list);
  draw_card(state, sheet_area, list);
  list.PopClipRect();

  // After what hangs there, so that it is taken hold of first.
  Camera* cameras[] = {&mine.outside_camera, &mine.panel_camera,
                       mine.back ? &mine.piping_camera : &mine.diagram_camera};
  static constexpr const char* kNames[] = {"outside", "panel", "sheet"};
  bool pressed = false;
  for (const Sheet& sheet : sheets) {
    const int which = sheet.scene == &mine.outside ? 0 : sheet.scene == &mine.panel ? 1 : 2;
    if (which < 2 || !mine.back) draw_edges(state, sheet, *cameras[which], kNames[which]);
    const bool keys = on == nullptr ? which == 2 : on->scene == sheet.scene;
    const bool bare_there = under.what == Hit::What::nothing;
    if (handle_sheet(*cameras[which], sheet.area, kNames[which],
                     {bare_there && mine.taken < 0, keys && mine.cursor.empty()}))
      pressed = true;
  }
  remember_things(state, sheets);
  if (mine.dragging >= 0 && !ImGui::IsMouseDown(0)) {
    const int which = mine.dragging;
    mine.dragging = -1;
    const ImVec2 moved = ImGui::GetMouseDragDelta(0, 0);
    if (std::abs(moved.x) + std::abs(moved.y) < 6) {
      mine.taken = which;  // a click on the cord: it is in hand
    } else if (under.what == Hit::What::terminal && !is_point(under)) {
      place_lead(state, which, under.id);
    } else {
      (which == 0 ? mine.red : mine.black).clear();
    }
  } else if (pressed && mine.dragging < 0 && mine.taken < 0 && gripped(mine, mouse) >= 0) {
    mine.dragging = gripped(mine, mouse);
    (mine.dragging == 0 ? mine.red : mine.black).clear();
  } else if (pressed && mine.dragging < 0 && on != nullptr && !covered) {
    click(state, *on, under);
  }
  if (const std::string words = words_under(state, under);
      !words.empty() && mine.dragging < 0 && mine.taken < 0 && mine.slip.empty()) {
    kit::tip(state, Name{words});
  }
}

}  // namespace legwork::gui::on_site
