// What the pointer does to the machine: screws take leads, bodies open slips, conductors are
// clamped or named.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

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

bool refuse(OnSiteState& mine, const std::string& terminal) {
  const Message why = why_not(mine, terminal);
  if (why.empty()) return false;
  mine.answer = {say("{what}: {why}", {{"what", Name{terminal}}, {"why", why}})};
  mine.harm.clear();
  mine.refused = true;
  return true;
}

std::string device_of(const OnSiteState& mine, const std::string& id) {
  const circuit::Circuit& circuit = mine.view.unit->circuit;
  if (circuit.find_device(id).valid()) return id;
  const circuit::TerminalId t = circuit.find_terminal(id);
  if (t.valid() && circuit.terminals[t.slot()].device.valid())
    return circuit.devices[circuit.terminals[t.slot()].device.slot()].name;
  const std::string before = id.substr(0, id.find('.'));  // "CC.P1" of the sheet
  return circuit.find_device(before).valid() ? before : std::string();
}

// What belongs to an id on a sheet: its target, or a spot round its terminal or the pointer.
Place place_of(const Sheet& sheet, const std::string& id, ImVec2 mouse) {
  for (const Target& it : sheet.scene->targets) {
    if (it.id == id) return place_on(sheet, it.box);
  }
  if (const Terminal* t = terminal_on(*sheet.scene, id)) {
    const float x = sheet.camera->screen_x(static_cast<float>(t->at.x));
    const float y = sheet.camera->screen_y(static_cast<float>(t->at.y));
    return {x - 14, y - 14, x + 14, y + 14};
  }
  return {mouse.x - 14, mouse.y - 14, mouse.x + 14, mouse.y + 14};
}

void click_terminal(State& state, OnSiteState& mine, const Sheet& sheet, const std::string& id) {
  const std::string device = device_of(mine, id);
  if (touch_of(mine.hand) == Touch::two_leads) {
    if (mine.taken >= 0) {
      const int which = mine.taken;
      mine.taken = -1;
      place_lead(state, which, id);
      return;
    }
    if (id == mine.red || id == mine.black) {  // that lead again
      const int which = id == mine.red ? 0 : 1;
      take_off(state, which);
      mine.taken = which;
      mine.slip.clear();
      return;
    }
    if (mine.red.empty() || mine.black.empty()) {
      place_lead(state, mine.red.empty() ? 0 : 1, id);
      return;
    }
  }
  // Both leads are on: nothing moves by itself. The part's slip has the screw's lines.
  if (!device.empty()) open_slip(mine, device, place_of(sheet, device, {}), id);
}

void click_point(State& state, OnSiteState& mine, const std::string& id) {
  if (id == "@low" || id == "@high") {
    give_step(state, mine.view.instruments.gauges_on ? "gauges" : "gauges on");
    return;
  }
  mine.hand = "temp";
  mine.red = id;
  mine.black.clear();
  give_step(state, "temp " + id.substr(1));
}

}  // namespace

void click(State& state, const Sheet& sheet, const Hit& under) {
  OnSiteState& mine = state.screens->on_site;
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const Touch touch = touch_of(mine.hand);
  mine.cursor.clear();
  mine.seen_open = mine.bag_open = false;
  if (under.what == Hit::What::wire && under.id.find('>') != std::string::npos) {
    if (touch == Touch::around_a_wire) {
      mine.red = under.id;
      mine.slip.clear();
      give_step(state, fmt::format("{} {}", mine.hand, under.id));
    } else {
      open_slip(mine, under.id, {mouse.x - 14, mouse.y - 14, mouse.x + 14, mouse.y + 14});
    }
    return;
  }
  if (is_point(under)) return click_point(state, mine, under.id);
  if (under.what == Hit::What::terminal) return click_terminal(state, mine, sheet, under.id);
  if (mine.taken >= 0) {  // put down: back to the meter
    mine.taken = -1;
    return;
  }
  if (under.what == Hit::What::thing) {
    open_slip(mine, under.id, place_of(sheet, under.id, mouse));
  } else if (under.what == Hit::What::symbol) {
    const std::string device = device_of(mine, under.id);
    if (!device.empty()) open_slip(mine, device, place_of(sheet, under.id, mouse));
  } else {
    mine.slip.clear();
  }
}

// What lies under the pointer, in words: never more than what its slip says too.
std::string words_under(const State& state, const Hit& under) {
  const OnSiteState& mine = state.screens->on_site;
  const circuit::Circuit& circuit = mine.view.unit->circuit;
  if (under.what == Hit::What::nothing || under.what == Hit::What::thing) return {};
  if (is_point(under)) {
    for (const unit::ProbePoint& probe : mine.view.unit->probes) {
      if (probe.id == under.id.substr(1)) return spoken(state, probe.name);
    }
    return under.id.substr(1);
  }
  if (under.what == Hit::What::wire) {
    const circuit::WireId wire = circuit.find_wire(under.id);
    if (!wire.valid()) return {};
    const int number = conductor_numbers(circuit)[circuit.wires[wire.slot()].from.slot()];
    return number > 0 ? fmt::format("{}\n{}", number, under.id) : under.id;
  }
  if (under.what == Hit::What::terminal) {
    const circuit::TerminalId id = circuit.find_terminal(under.id);
    std::string words = under.id;
    for (const circuit::Wire& wire : circuit.wires) {
      if (wire.from == id || wire.to == id) words += "\n" + wire.name;
    }
    if (const Message why = why_not(mine, under.id); !why.empty())
      words += "\n" + spoken(state, why);
    return words;
  }
  const circuit::DeviceId id = circuit.find_device(under.id);
  return id.valid()
             ? fmt::format("{} · {}", under.id,
                           spoken(state, Term{std::string(circuit.devices[id.slot()].kind->name)}))
             : std::string();
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
  mine.taken = -1;
}

bool holds(const Place& p, float x, float y) {
  return x >= p.left && x < p.right && y >= p.top && y < p.bottom;
}

bool is_point(const Hit& under) {
  return under.what == Hit::What::terminal && under.id.starts_with('@');
}

Message why_not(const OnSiteState& mine, const std::string& terminal) {
  const circuit::TerminalId id = mine.view.unit->circuit.find_terminal(terminal);
  if (!id.valid() || id.slot() >= mine.view.terminals.size()) return {};
  const session::TerminalView& view = mine.view.terminals[id.slot()];
  return view.reachable ? Message() : view.why_not;
}

namespace {

// The meter's reading, while it hangs and reads by itself.
const session::InstrumentView* live_meter(const OnSiteState& mine) {
  for (const session::InstrumentView& it : mine.view.hooked) {
    if (it.state == session::InstrumentView::State::live && it.at.size() == 2 &&
        touch_of(it.function) == Touch::two_leads)
      return &it;
  }
  return nullptr;
}

void remember_leads(OnSiteState& mine) {
  mine.leads_were.push_back({mine.hand, mine.red, mine.black, live_meter(mine) != nullptr});
}

// A free step, without clearing what was answered last.
void free_step(OnSiteState& mine, const char* line) {
  if (mine.door->submit_line(line).accepted) take_view(mine);
}

}  // namespace

void take_off(State& state, int which) {
  OnSiteState& mine = state.screens->on_site;
  remember_leads(mine);
  if (live_meter(mine) != nullptr) {
    free_step(mine, which == 0 ? "red lead off" : which == 1 ? "black lead off" : "leads off");
    if (state.works_ahead) making_of(state, mine.door->log_path()).grown();
  }
  if (which != 1) mine.red.clear();
  if (which != 0) mine.black.clear();
}

void take_back(State& state) {
  OnSiteState& mine = state.screens->on_site;
  if (mine.leads_were.empty()) return;
  const OnSiteState::LeadsWere were = mine.leads_were.back();
  mine.leads_were.pop_back();
  mine.taken = -1;
  mine.hand = were.hand;
  mine.red = were.red;
  mine.black = were.black;
  if (were.read && live_meter(mine) == nullptr) {
    free_step(mine, "leads back");
    if (state.works_ahead) making_of(state, mine.door->log_path()).grown();
  }
}

void place_lead(State& state, int which, const std::string& terminal) {
  OnSiteState& mine = state.screens->on_site;
  if (refuse(mine, terminal)) return;
  remember_leads(mine);
  (which == 0 ? mine.red : mine.black) = terminal;
  if (!mine.red.empty() && !mine.black.empty() && mine.red != mine.black)
    ask_step(state, fmt::format("{} {} {}", mine.hand, mine.red, mine.black));
}

}  // namespace legwork::gui::on_site
