// The door: the diagram with the panel behind it, or the piping on its back, and what the pointer
// does there.

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

namespace legwork::gui::on_site {
namespace {

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

// Why a terminal cannot be touched from here; empty if it can.
Message why_not(const OnSiteState& mine, const std::string& terminal) {
  const circuit::TerminalId id = mine.view.unit->circuit.find_terminal(terminal);
  if (!id.valid() || id.slot() >= mine.view.terminals.size()) return {};
  const session::TerminalView& view = mine.view.terminals[id.slot()];
  return view.reachable ? Message() : view.why_not;
}

bool refuse(OnSiteState& mine, const std::string& terminal) {
  const Message why = why_not(mine, terminal);
  if (why.empty()) return false;
  mine.answer = {say("{what}: {why}", {{"what", Name{terminal}}, {"why", why}})};
  mine.harm.clear();
  mine.refused = true;
  return true;
}

// Puts a lead and takes the reading once both are placed.
void place_lead(State& state, OnSiteState& mine, int which, const std::string& terminal) {
  if (refuse(mine, terminal)) return;
  (which == 0 ? mine.red : mine.black) = terminal;
  if (!mine.red.empty() && !mine.black.empty() && mine.red != mine.black) {
    give_step(state, fmt::format("{} {} {}", mine.hand, mine.red, mine.black));
  }
}

bool is_point(const Hit& under) {
  return under.what == Hit::What::terminal && under.id.starts_with('@');
}

void touched(State& state, OnSiteState& mine, const Hit& under) {
  const Touch touch = touch_of(mine.hand);
  const bool terminal = under.what == Hit::What::terminal && !is_point(under);
  if (is_point(under) && (under.id == "@low" || under.id == "@high")) {
    give_step(state, mine.view.instruments.gauges_on ? "gauges" : "gauges on");
  } else if (is_point(under)) {
    mine.hand = "temp";
    mine.red = under.id;
    give_step(state, "temp " + under.id.substr(1));
  } else if (touch == Touch::two_leads && terminal) {
    place_lead(state, mine, mine.red.empty() ? 0 : 1, under.id);
  } else if (touch == Touch::around_a_wire && under.what == Hit::What::wire &&
             under.id.find('>') != std::string::npos) {
    mine.red = under.id;
    give_step(state, fmt::format("{} {}", mine.hand, under.id));
  } else if (terminal) {
    refuse(mine, under.id);
  }
}

// What lies under the pointer, in words: the terminal, its device, the wires that end there.
std::string name_of(const State& state, const OnSiteState& mine, const Hit& under) {
  if (under.what == Hit::What::nothing) return {};
  const circuit::Circuit& circuit = mine.view.unit->circuit;
  const auto device_words = [&](circuit::DeviceId id) {
    return fmt::format("{} · {}", circuit.devices[id.slot()].name,
                       spoken(state, Term{std::string(circuit.devices[id.slot()].kind->name)}));
  };
  if (is_point(under)) {
    for (const unit::ProbePoint& probe : mine.view.unit->probes) {
      if (probe.id == under.id.substr(1)) return spoken(state, probe.name);
    }
    return under.id.substr(1);
  }
  if (under.what == Hit::What::terminal) {
    const circuit::TerminalId id = circuit.find_terminal(under.id);
    if (!id.valid()) return under.id;
    std::string words = under.id;
    if (const circuit::DeviceId device = circuit.terminals[id.slot()].device; device.valid()) {
      words += "\n" + device_words(device);
    }
    for (const circuit::Wire& wire : circuit.wires) {
      if (wire.from == id || wire.to == id) words += "\n" + wire.name;
    }
    if (const Message why = why_not(mine, under.id); !why.empty())
      words += "\n" + spoken(state, why);
    return words;
  }
  if (under.what == Hit::What::symbol) {
    const circuit::DeviceId id = circuit.find_device(under.id);
    return id.valid() ? device_words(id) : under.id;
  }
  const circuit::WireId wire = circuit.find_wire(under.id);
  const circuit::TerminalId end =
      wire.valid() ? circuit.wires[wire.slot()].from : circuit.find_terminal(under.id);
  if (!end.valid()) return under.id;
  const int number = conductor_numbers(circuit)[end.slot()];
  return number > 0 ? fmt::format("{}\n{}", number, under.id) : under.id;
}

// What cannot be reached from here; a part when none of its terminals can.
void note_faint(OnSiteState& mine) {
  const std::string key =
      fmt::format("{} {} {}", mine.view.place, mine.view.trail.size(), mine.view.minutes);
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

Emphasis emphasis_of(OnSiteState& mine, const Hit& under) {
  note_faint(mine);
  Emphasis emphasis;
  emphasis.faint = mine.paper.faint;
  if (under.what != Hit::What::nothing) emphasis.lit.insert(under.id);
  if (!mine.found.empty()) emphasis.lit.insert(mine.found);
  if (!mine.red.empty()) emphasis.lit.insert(mine.red);
  if (!mine.black.empty()) emphasis.lit.insert(mine.black);
  return emphasis;
}

bool holds(const Place& p, float x, float y) {
  return x >= p.left && x < p.right && y >= p.top && y < p.bottom;
}

// A reading that was typed puts the instrument and its leads there too.
void follow_reading(OnSiteState& mine) {
  const std::size_t count = mine.view.tags.size();
  if (mine.paper.tags_seen == count) return;
  mine.paper.tags_seen = count;
  if (count == 0) return;
  const session::Tag& tag = mine.view.tags.back();
  const Touch touch = touch_of(tag.function);
  if (touch == Touch::none || tag.at.size() != (touch == Touch::two_leads ? 2U : 1U)) return;
  mine.hand = tag.function;
  mine.red = (touch == Touch::at_a_point ? "@" : "") + tag.at.front();
  mine.black = touch == Touch::two_leads ? tag.at.back() : "";
  mine.back = touch == Touch::at_a_point;
}

// Rings on the panel where the leads are.
void mark_leads(const State& state, const OnSiteState& mine, const Sheet& panel, ImDrawList& list) {
  for (const bool red : {true, false}) {
    const std::string& id = red ? mine.red : mine.black;
    const Terminal* t = id.empty() ? nullptr : terminal_on(*panel.scene, id);
    if (t == nullptr) continue;
    list.AddCircle({panel.camera->screen_x(static_cast<float>(t->at.x)),
                    panel.camera->screen_y(static_cast<float>(t->at.y))},
                   std::max(7.0F, 10 * panel.camera->zoom),
                   state.ink.theme.packed(red ? Role::red_lead : Role::black_lead), 24,
                   2.5F * state.ink.scale);
  }
}

// By name for tests: where a terminal can be touched on this page, on the diagram if it can.
void remember_terminals(State& state, const Sheet& sheet, const Sheet* panel) {
  const auto note = [&](const std::string& name, const Sheet& on, const Terminal& t) {
    const float x = on.camera->screen_x(static_cast<float>(t.at.x));
    const float y = on.camera->screen_y(static_cast<float>(t.at.y));
    if (holds(on.area, x, y)) state.places.emplace(name, Place{x - 4, y - 4, x + 4, y + 4});
  };
  for (const bool home : {true, false}) {
    for (const Terminal& t : sheet.scene->terminals) {
      if (t.home == home) note("terminal " + t.id, sheet, t);
    }
  }
  if (panel == nullptr) return;
  for (const Terminal& t : panel->scene->terminals) {
    note("screw " + t.id, *panel, t);
    note("terminal " + t.id, *panel, t);
  }
}

// The line over the sheet: turning, folding, fitting, finding.
void draw_handles(State& state, OnSiteState& mine, Place area) {
  const float s = state.ink.scale;
  ImGui::SetCursorScreenPos({area.left, area.top});
  if (kit::choice(state, "turn over",
                  mine.back ? phrase("Turn to the diagram") : phrase("Turn over to the piping")))
    mine.back = !mine.back;
  ImGui::SameLine(0, 18 * s);
  if (!mine.back &&
      kit::choice(state, "fold panel",
                  mine.panel_open ? phrase("Fold the panel away") : phrase("Unfold the panel"))) {
    mine.panel_open = !mine.panel_open;
  }
  ImGui::SameLine(0, 18 * s);
  if (kit::choice(state, "fit",
                  mine.paper.whole ? phrase("Near enough to read") : phrase("The whole sheet")) ||
      (kit::keys_free() && kit::pressed(Key::f))) {
    show_whole(state, !mine.paper.whole);
  }
  ImGui::SameLine(0, 18 * s);
  kit::field(state, "find", mine.find, 130 * s, spoken(state, phrase("find")));
}

}  // namespace

Touch touch_of(const std::string& verb) {
  for (const Instrument& row : kInstruments) {
    if (verb == row.verb) return row.touch;
  }
  return Touch::none;
}

void draw_door(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  draw_handles(state, mine, area);
  Place sheet_area{area.left, area.top + 34 * s, area.right, area.bottom};
  Place panel_area = sheet_area;
  const bool with_panel = !mine.back && mine.panel_open;
  if (with_panel) {
    // The diagram has the more of little room.
    const float wide = (area.right - area.left) / s;
    sheet_area.right -= s * std::clamp(wide * (wide < 900 ? 0.22F : 0.32F), 170.0F, 470.0F);
    panel_area.left = sheet_area.right + 14 * s;
  }
  lay_sheets(state, sheet_area, panel_area);
  find_on(state);
  follow_reading(mine);
  show_leads(state);

  Camera& camera = mine.back ? mine.piping_camera : mine.diagram_camera;
  const Scene& scene = mine.back ? mine.piping : mine.diagram;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const Sheet sheet{&scene, &camera, sheet_area};
  const Sheet panel{&mine.panel, &mine.panel_camera, panel_area};
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  Hit under;
  if (holds(sheet_area, mouse.x, mouse.y)) under = hit(scene, camera, mouse.x, mouse.y);
  if (with_panel && holds(panel_area, mouse.x, mouse.y))
    under = hit(mine.panel, mine.panel_camera, mouse.x, mouse.y);

  for (const Place& it : mine.paper.hung) {
    if (holds(it, mouse.x, mouse.y)) under = {};  // it lies under what hangs there
  }
  mine.paper.hung.clear();

  const Emphasis emphasis = emphasis_of(mine, under);
  list.PushClipRect({sheet_area.left, sheet_area.top}, {sheet_area.right, sheet_area.bottom}, true);
  draw_scene(scene, camera, state.ink, emphasis, list);
  list.PopClipRect();
  if (with_panel) {
    list.PushClipRect({panel_area.left, panel_area.top}, {panel_area.right, panel_area.bottom},
                      true);
    draw_scene(mine.panel, mine.panel_camera, state.ink, emphasis, list);
    mark_leads(state, mine, panel, list);
    list.PopClipRect();
  }
  list.PushClipRect({sheet_area.left, sheet_area.top}, {sheet_area.right, sheet_area.bottom}, true);
  draw_tags(state, sheet, list);
  draw_gauges(state, sheet_area, list);
  draw_card(state, sheet_area, list);
  draw_meter(state, sheet, list);
  list.PopClipRect();

  // After what hangs there, so that it is taken hold of first.
  const bool paper_only = under.what == Hit::What::nothing;
  const bool on_panel = with_panel && holds(panel_area, mouse.x, mouse.y);
  bool pressed_on = handle_sheet(camera, sheet_area, "sheet", {paper_only, !on_panel});
  if (with_panel) {
    pressed_on =
        handle_sheet(mine.panel_camera, panel_area, "panel", {paper_only, on_panel}) || pressed_on;
  }
  remember_terminals(state, sheet, with_panel ? &panel : nullptr);
  if (mine.dragging >= 0 && !ImGui::IsMouseDown(0)) {
    const int which = mine.dragging;
    mine.dragging = -1;
    if (under.what == Hit::What::terminal && !is_point(under)) {
      place_lead(state, mine, which, under.id);
    } else {
      (which == 0 ? mine.red : mine.black).clear();
    }
  } else if (pressed_on && mine.dragging < 0) {
    touched(state, mine, under);
  }
  if (const std::string words = name_of(state, mine, under); !words.empty() && mine.dragging < 0) {
    kit::tip(state, Name{words});
  }
}

}  // namespace legwork::gui::on_site
