// The door: the diagram with the panel behind it, or the piping on its back; leads, tags and the
// instrument that hangs there.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "engine/circuit/circuit.h"
#include "engine/unit/unit.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"
#include "gui/sheet/ladder.h"

namespace legwork::gui::on_site {
namespace {

// How an instrument is put to the machine.
enum class Touch { two_leads, around_a_wire, at_a_point, none };

struct Instrument {
  const char* verb;
  Touch touch;
};
constexpr Instrument kInstruments[] = {
    {"volts", Touch::two_leads},      {"lowz", Touch::two_leads},
    {"dc", Touch::two_leads},         {"ohms", Touch::two_leads},
    {"continuity", Touch::two_leads}, {"microfarads", Touch::two_leads},
    {"insulation", Touch::two_leads}, {"clamp", Touch::around_a_wire},
    {"peak", Touch::around_a_wire},   {"temp", Touch::at_a_point},
    {"jumper", Touch::two_leads},     {"lift", Touch::around_a_wire},
};

Touch touch_of(const std::string& verb) {
  for (const Instrument& row : kInstruments) {
    if (verb == row.verb) return row.touch;
  }
  return Touch::none;
}

const Terminal* terminal_on(const Scene& scene, const std::string& id) {
  const Terminal* any = nullptr;
  for (const Terminal& t : scene.terminals) {
    if (t.id != id) continue;
    if (t.home) return &t;
    if (any == nullptr) any = &t;
  }
  return any;
}

struct Sheet {
  const Scene* scene;
  const Camera* camera;
  Place area;
};

ImVec2 spot(const Sheet& sheet, const Terminal& t) {
  return {sheet.camera->screen_x(static_cast<float>(t.at.x)),
          sheet.camera->screen_y(static_cast<float>(t.at.y))};
}

// A cord that hangs: a curve with its belly down, drawn beside symbols by ending under the
// terminal.
void cord(ImDrawList& list, ImVec2 from, ImVec2 to, unsigned colour, float width) {
  const float sag = 30 + std::abs(to.x - from.x) * 0.12F;
  list.AddBezierCubic(from, {from.x, from.y + sag}, {to.x, to.y + sag + 16}, to, colour, width, 32);
}

void lead_end(ImDrawList& list, ImVec2 at, unsigned colour, unsigned paper, float s) {
  list.AddCircleFilled(at, 6 * s, colour, 20);
  list.AddCircleFilled(at, 2 * s, paper, 12);
}

// Puts a lead and takes the reading once both are placed.
void place_lead(State& state, OnSiteState& mine, int which, const std::string& terminal) {
  (which == 0 ? mine.red : mine.black) = terminal;
  if (!mine.red.empty() && !mine.black.empty() && mine.red != mine.black) {
    give_step(state, fmt::format("{} {} {}", mine.hand, mine.red, mine.black));
  }
}

void touched(State& state, OnSiteState& mine, const Hit& under) {
  const Touch touch = touch_of(mine.hand);
  if (touch == Touch::two_leads && under.what == Hit::What::terminal && under.id[0] != '@') {
    const int next = mine.red.empty() ? 0 : 1;
    place_lead(state, mine, next, under.id);
  } else if (touch == Touch::around_a_wire && under.what == Hit::What::wire &&
             under.id.find('>') != std::string::npos) {
    mine.red = under.id;
    give_step(state, fmt::format("{} {}", mine.hand, under.id));
  } else if (touch == Touch::at_a_point && under.what == Hit::What::terminal &&
             under.id[0] == '@') {
    mine.red = under.id;
    give_step(state, "temp " + under.id.substr(1));
  } else if (under.what == Hit::What::terminal && under.id == "@low") {
    give_step(state, mine.view.instruments.gauges_on ? "gauges" : "gauges on");
  }
}

// What lies under the pointer, in words.
std::string name_of(const OnSiteState& mine, const Hit& under) {
  if (under.what == Hit::What::nothing) return {};
  const circuit::Circuit& circuit = mine.view.unit->circuit;
  if (under.what == Hit::What::terminal) {
    const circuit::TerminalId id = circuit.find_terminal(under.id);
    if (!id.valid()) return under.id.substr(under.id[0] == '@' ? 1 : 0);
    const session::TerminalView& view = mine.view.terminals[id.slot()];
    return view.reachable ? under.id : under.id + "\n" + view.why_not;
  }
  if (under.what == Hit::What::symbol) {
    const circuit::DeviceId id = circuit.find_device(under.id);
    return id.valid() ? fmt::format("{} · {}", under.id, circuit.devices[id.slot()].kind->name)
                      : under.id;
  }
  return under.id;
}

Emphasis emphasis_of(const OnSiteState& mine, const Hit& under, bool with_reach) {
  Emphasis emphasis;
  if (under.what != Hit::What::nothing) emphasis.lit.insert(under.id);
  if (!mine.found.empty()) emphasis.lit.insert(mine.found);
  if (!with_reach) return emphasis;
  // A part is faint when none of its terminals can be reached from here.
  const circuit::Circuit& circuit = mine.view.unit->circuit;
  std::vector<bool> near(circuit.devices.size(), false);
  for (std::size_t i = 0; i < mine.view.terminals.size() && i < circuit.terminals.size(); ++i) {
    if (!mine.view.terminals[i].reachable) {
      emphasis.faint.insert(mine.view.terminals[i].name);
    } else if (circuit.terminals[i].device.valid()) {
      near[circuit.terminals[i].device.slot()] = true;
    }
  }
  for (const circuit::Wire& wire : circuit.wires) {
    if (emphasis.faint.count(circuit.terminals[wire.from.slot()].name) +
            emphasis.faint.count(circuit.terminals[wire.to.slot()].name) ==
        2) {
      emphasis.faint.insert(wire.name);
    }
  }
  for (std::size_t i = 0; i < near.size(); ++i) {
    if (!near[i]) emphasis.faint.insert(circuit.devices[i].name);
  }
  return emphasis;
}

// Small numbered paper tags at the terminals where readings were taken.
void draw_tags(State& state, const OnSiteState& mine, const Sheet& sheet, ImDrawList& list) {
  const float s = state.ink.scale;
  for (const session::Tag& tag : mine.view.tags) {
    if (tag.at.empty()) continue;
    const Terminal* home = terminal_on(*sheet.scene, tag.at.front());
    if (home == nullptr) home = terminal_on(*sheet.scene, "@" + tag.at.front());
    if (home == nullptr) continue;
    const ImVec2 at = spot(sheet, *home);
    const std::string text = std::to_string(tag.number);
    const ImVec2 size = state.ink.fonts.small->CalcTextSizeA(state.ink.fonts.small->FontSize, 1e9F,
                                                             0, text.c_str());
    const ImVec2 from{std::floor(at.x + 7 * s), std::floor(at.y - 20 * s)};
    const ImVec2 to{from.x + size.x + 8 * s, from.y + 15 * s};
    const ImVec2 string[2] = {at, {from.x + 2 * s, to.y}};
    list.AddPolyline(string, 2, state.ink.theme.packed(Role::dim), 0, 1);
    list.AddRectFilled(from, to, state.ink.theme.packed(Role::tag));
    list.AddText(state.ink.fonts.small, state.ink.fonts.small->FontSize, {from.x + 4 * s, from.y},
                 state.ink.theme.packed(Role::ink), text.c_str());
  }
}

// The meter where it hangs, its reading in ink digits, and its two cords.
void draw_meter(State& state, OnSiteState& mine, const Sheet& sheet, ImDrawList& list) {
  const Touch touch = touch_of(mine.hand);
  if (touch == Touch::none) return;
  const float s = state.ink.scale;
  const float wide = 176 * s, high = 84 * s;
  const Place& area = sheet.area;
  const float left =
      std::clamp(area.left + mine.hang_x * (area.right - area.left), area.left, area.right - wide);
  const float top = std::clamp(area.top + mine.hang_y * (area.bottom - area.top), area.top,
                               area.bottom - high - 30 * s);
  const unsigned ink = state.ink.theme.packed(Role::ink),
                 paper = state.ink.theme.packed(Role::paper);
  // Body: a slip of paper on a string, to be dragged by its upper edge.
  list.AddRectFilled({left, top}, {left + wide, top + high}, paper);
  list.AddRect({std::floor(left) + 0.5F, std::floor(top) + 0.5F},
               {std::floor(left + wide) + 0.5F, std::floor(top + high) + 0.5F}, ink);
  ImGui::SetCursorScreenPos({left, top});
  ImGui::InvisibleButton("meter", {wide, 26 * s});
  kit::remember(state, "meter");
  if (ImGui::IsItemActive()) {
    mine.hang_x += ImGui::GetIO().MouseDelta.x / (area.right - area.left);
    mine.hang_y += ImGui::GetIO().MouseDelta.y / (area.bottom - area.top);
  }
  const std::string title = say(state, "instrument." + mine.hand);
  list.AddText(state.ink.fonts.small, state.ink.fonts.small->FontSize, {left + 8 * s, top + 5 * s},
               state.ink.theme.packed(Role::dim), title.c_str());
  const std::string shown = mine.shown.empty() ? "– – –" : mine.shown;
  ImFont* font = state.ink.fonts.digits;
  const float fit_size =
      std::min(font->FontSize,
               font->FontSize * (wide - 16 * s) /
                   std::max(1.0F, font->CalcTextSizeA(font->FontSize, 1e9F, 0, shown.c_str()).x));
  list.AddText(font, fit_size, {left + 8 * s, top + 30 * s}, ink, shown.c_str());
  if (touch == Touch::at_a_point) return;
  const int ends = touch == Touch::two_leads ? 2 : 1;
  for (int i = 0; i < ends; ++i) {
    const unsigned colour =
        state.ink.theme.packed(i == 0 && ends == 2 ? Role::red_lead : Role::black_lead);
    const ImVec2 jack{left + (i == 0 ? 50 : 126) * s, top + high};
    const std::string& where = i == 0 ? mine.red : mine.black;
    const Terminal* home = where.empty() || ends == 1 ? nullptr : terminal_on(*sheet.scene, where);
    ImVec2 end{jack.x + (i == 0 ? -16 : 16) * s, jack.y + 22 * s};  // hanging loose
    if (home != nullptr) end = spot(sheet, *home);
    if (mine.dragging == i) end = ImGui::GetIO().MousePos;
    cord(list, jack, end, colour, 2.5F * s);
    lead_end(list, end, colour, paper, s);
    ImGui::SetCursorScreenPos({end.x - 9 * s, end.y - 9 * s});
    ImGui::InvisibleButton(i == 0 ? "lead red" : "lead black", {18 * s, 18 * s});
    kit::remember(state, i == 0 ? "lead red" : "lead black");
    if (ImGui::IsItemActive() && ImGui::IsMouseDragging(0, 3)) mine.dragging = i;
  }
}

// The two gauges, hung at the left of the back of the sheet: plain dials lettered LOW and HIGH.
void draw_dial(State& state, ImDrawList& list, ImVec2 middle, float radius, const char* word,
               const std::string& shown, double most) {
  const float s = state.ink.scale;
  const unsigned ink = state.ink.theme.packed(Role::ink);
  list.AddCircleFilled(middle, radius, state.ink.theme.packed(Role::paper), 48);
  list.AddCircle(middle, radius, ink, 48, 1.5F);
  const auto at = [&](double part, float r) {
    const double angle = (0.75 + 1.5 * part) * 3.14159265358979;
    return ImVec2{middle.x + static_cast<float>(std::cos(angle)) * r,
                  middle.y + static_cast<float>(std::sin(angle)) * r};
  };
  for (int i = 0; i <= 10; ++i) {
    const ImVec2 tick[2] = {at(i / 10.0, radius), at(i / 10.0, radius - 6 * s)};
    list.AddPolyline(tick, 2, ink, 0, 1);
  }
  const double value = std::clamp(std::strtod(shown.c_str(), nullptr), 0.0, most);
  const ImVec2 hand[2] = {middle, at(value / most, radius - 10 * s)};
  list.AddPolyline(hand, 2, ink, 0, 2);
  ImFont* font = state.ink.fonts.mono;
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e9F, 0, word);
  list.AddText(font, font->FontSize, {middle.x - size.x / 2, middle.y + radius * 0.35F}, ink, word);
  const ImVec2 below = font->CalcTextSizeA(font->FontSize, 1e9F, 0, shown.c_str());
  list.AddText(font, font->FontSize, {middle.x - below.x / 2, middle.y + radius + 3 * s}, ink,
               shown.c_str());
}

void draw_gauges(State& state, const OnSiteState& mine, Place area, ImDrawList& list) {
  if (!mine.view.instruments.gauges_on || !mine.back) return;
  const float r = 52 * state.ink.scale;
  draw_dial(state, list, {area.left + r * 1.3F, area.bottom - r * 1.6F}, r, "LOW",
            mine.view.instruments.low, 150);
  draw_dial(state, list, {area.left + r * 3.8F, area.bottom - r * 1.6F}, r, "HIGH",
            mine.view.instruments.high, 600);
}

bool same(const Place& a, const Place& b) {
  return std::abs(a.left - b.left) < 1 && std::abs(a.right - b.right) < 1 &&
         std::abs(a.top - b.top) < 1 && std::abs(a.bottom - b.bottom) < 1;
}

void find_on(OnSiteState& mine) {
  mine.found.clear();
  if (mine.find.empty()) return;
  const auto starts = [&](const std::string& name) {
    return name.size() >= mine.find.size() &&
           std::equal(mine.find.begin(), mine.find.end(), name.begin(),
                      [](char a, char b) { return std::toupper(a) == std::toupper(b); });
  };
  for (const Symbol& symbol : mine.diagram.symbols) {
    if (starts(symbol.id)) {
      mine.found = symbol.id;
      return;
    }
  }
  for (const Terminal& t : mine.diagram.terminals) {
    if (starts(t.id)) {
      mine.found = t.id;
      return;
    }
  }
}

}  // namespace

void draw_door(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  ImGui::SetCursorScreenPos({area.left, area.top});
  if (kit::choice(state, "turn over", say(state, mine.back ? "on site.diagram" : "on site.piping")))
    mine.back = !mine.back;
  ImGui::SameLine(0, 18 * s);
  if (!mine.back &&
      kit::choice(state, "fold panel",
                  say(state, mine.panel_open ? "on site.fold panel" : "on site.unfold panel"))) {
    mine.panel_open = !mine.panel_open;
  }
  ImGui::SameLine(0, 18 * s);
  const bool fit_all = kit::choice(state, "fit", say(state, "on site.fit"));
  ImGui::SameLine(0, 18 * s);
  kit::field(state, "find", mine.find, 130 * s, say(state, "on site.find"));
  find_on(mine);

  Place sheet_area{area.left, area.top + 34 * s, area.right, area.bottom};
  Place panel_area = sheet_area;
  const bool with_panel = !mine.back && mine.panel_open && !mine.panel.terminals.empty();
  if (with_panel) {
    sheet_area.right -= std::clamp((area.right - area.left) * 0.28F, 190 * s, 420 * s);
    panel_area.left = sheet_area.right + 10 * s;
  }
  const double shape = (sheet_area.right - sheet_area.left) / (sheet_area.bottom - sheet_area.top);
  if (mine.diagram.terminals.empty() || std::abs(shape / mine.diagram_shape - 1) > 0.15) {
    mine.diagram = ladder(*mine.view.unit, shape);
    mine.diagram_shape = shape;
  }
  Camera& camera = mine.back ? mine.piping_camera : mine.diagram_camera;
  bool& fitted = mine.back ? mine.piping_fitted : mine.diagram_fitted;
  const Scene& scene = mine.back ? mine.piping : mine.diagram;
  if (!same(mine.diagram_area, sheet_area))
    mine.diagram_fitted = mine.piping_fitted = mine.panel_fitted = false;
  mine.diagram_area = sheet_area;
  if (!fitted || fit_all || (kit::keys_free() && kit::pressed(Key::f)))
    camera = fit(scene.extent, sheet_area);
  fitted = true;
  if (with_panel && (!mine.panel_fitted || fit_all))
    mine.panel_camera = fit(mine.panel.extent, panel_area);
  mine.panel_fitted = true;

  ImDrawList& list = *ImGui::GetWindowDrawList();
  const Sheet sheet{&scene, &camera, sheet_area};
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  Hit under;
  const auto inside = [&](const Place& p) {
    return mouse.x >= p.left && mouse.x < p.right && mouse.y >= p.top && mouse.y < p.bottom;
  };
  if (inside(sheet_area)) under = hit(scene, camera, mouse.x, mouse.y);
  if (with_panel && inside(panel_area))
    under = hit(mine.panel, mine.panel_camera, mouse.x, mouse.y);

  list.PushClipRect({sheet_area.left, sheet_area.top}, {sheet_area.right, sheet_area.bottom}, true);
  draw_scene(scene, camera, state.ink, emphasis_of(mine, under, !mine.back), list);
  draw_tags(state, mine, sheet, list);
  list.PopClipRect();
  if (with_panel) {
    list.PushClipRect({panel_area.left, panel_area.top}, {panel_area.right, panel_area.bottom},
                      true);
    draw_scene(mine.panel, mine.panel_camera, state.ink, emphasis_of(mine, under, false), list);
    list.PopClipRect();
  }
  draw_gauges(state, mine, sheet_area, list);
  draw_meter(state, mine, sheet, list);

  // After the meter, so that its leads are taken hold of first.
  bool pressed_on = handle_sheet(camera, sheet_area, "sheet");
  if (with_panel) pressed_on = handle_sheet(mine.panel_camera, panel_area, "panel") || pressed_on;
  for (const Terminal& t : scene.terminals) {
    if (!t.home) continue;
    const float x = camera.screen_x(static_cast<float>(t.at.x)),
                y = camera.screen_y(static_cast<float>(t.at.y));
    state.places["terminal " + t.id] = {x - 4, y - 4, x + 4, y + 4};
  }
  if (mine.dragging >= 0 && !ImGui::IsMouseDown(0)) {
    const int which = mine.dragging;
    mine.dragging = -1;
    if (under.what == Hit::What::terminal && under.id[0] != '@') {
      place_lead(state, mine, which, under.id);
    } else {
      (which == 0 ? mine.red : mine.black).clear();
    }
  } else if (pressed_on && mine.dragging < 0) {
    touched(state, mine, under);
  }
  if (const std::string words = name_of(mine, under); !words.empty() && mine.dragging < 0) {
    ImGui::SetTooltip("%s", words.c_str());
  }
}

}  // namespace legwork::gui::on_site
