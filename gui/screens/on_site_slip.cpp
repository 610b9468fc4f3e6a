// The slip that opens beside a part, a thing or a conductor: the few things that can be done to it,
// with their minutes; what cannot be done, with its reason; last what is known of it. Beside the
// part, never over it.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "engine/circuit/kinds.h"
#include "engine/unit/unit.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"
#include "gui/sheet/ladder.h"
#include "gui/sheet/ladder_rows.h"
#include "gui/sheet/parts.h"

namespace legwork::gui::on_site {
namespace {

using session::Action;
using session::Group;
using session::SetPoint;

// A choice with its minutes beside it, or faint with its reason beside it.
bool offered(State& state, const std::string& name, const Message& words, double minutes,
             const Message& why_not) {
  const float s = state.ink.scale;
  const bool chosen = kit::choice(state, name, words, why_not);
  // What the first click of two has done may stand here as its contrary by now.
  const bool second = ImGui::GetIO().MouseClickedLastCount[0] > 1 && ImGui::IsMouseReleased(0);
  ImGui::SameLine(0, 8 * s);
  if (why_not.empty()) {
    kit::small_words(state, Name{minutes_text(minutes)});
  } else {
    // Beside it if there is room, else under it.
    const float room = ImGui::GetContentRegionAvail().x;
    const std::string why = spoken(state, why_not);
    ImGui::PushFont(state.ink.fonts.small);
    const float wide = ImGui::CalcTextSize(why.c_str()).x;
    ImGui::PopFont();
    if (wide > room) {
      ImGui::NewLine();
      ImGui::Indent(12 * s);
      kit::small_words(state, why_not);
      ImGui::Unindent(12 * s);
    } else {
      kit::small_words(state, why_not);
    }
  }
  return chosen && !second;
}

// Does a step that the view offers belong to this slip?
bool belongs(const OnSiteState& mine, const Action& action) {
  const std::string& id = mine.slip;
  if (action.open_ended) return false;
  if (id == "!people") return action.group == Group::ask;
  if (id == "!cover") return action.step.verb == "cover";
  if (id.starts_with('!')) {
    if (id == "!condenser guard" && action.subject == "condenser guard") return true;
    if (id == "!door" && (action.step.verb == "open door" || action.step.verb == "close door"))
      return true;
    return action.subject == id.substr(1);
  }
  if (action.subject == id) return true;
  // "replace CC", "land FU4.2>HPC.1": names of repairs begin with what is repaired.
  return action.group == Group::repair &&
         std::any_of(action.step.arguments.begin(), action.step.arguments.end(),
                     [&](const std::string& a) {
                       return a == id || a.starts_with(id + ":") || a.starts_with(id + " ") ||
                              a.ends_with(" " + id);
                     });
}

// What can be measured across: the part's own pairs.
void offer_pairs(State& state, OnSiteState& mine, const circuit::Device& device,
                 std::string& step) {
  if (touch_of(mine.hand) != Touch::two_leads) return;
  const circuit::Circuit& circuit = mine.view.unit->circuit;
  const float s = state.ink.scale;
  bool first = true;
  for (const circuit::Part& part : device.parts) {
    if (!part.from.valid() || !part.to.valid()) continue;
    const circuit::Terminal& a = circuit.terminals[part.from.slot()];
    const circuit::Terminal& b = circuit.terminals[part.to.slot()];
    if (a.hidden || b.hidden) continue;
    if (first) {
      kit::small_words(
          state, say("Measure across, {function}", {{"function", name_of_instrument(mine.hand)}}));
    } else {
      ImGui::SameLine(0, 16 * s);
      if (ImGui::GetContentRegionAvail().x < 90 * s) ImGui::NewLine();
    }
    first = false;
    const std::string words = fmt::format("{}{}–{}", part.name == "coil" ? part.name + " " : "",
                                          point_of(a.name), point_of(b.name));
    if (kit::choice(state, fmt::format("across {} {}", a.name, b.name), Name{words},
                    why_not(mine, a.name))) {
      step = fmt::format("{} {} {}", mine.hand, a.name, b.name);
    }
  }
}

// How far one click turns a dial, SI.
double turn_of(Dimension dimension, double value) {
  constexpr double kFivePsi = 5 * 6894.757, kOneFahrenheit = 5.0 / 9;
  if (dimension == Dimension::pressure || dimension == Dimension::pressure_difference)
    return kFivePsi;
  if (dimension == Dimension::temperature || dimension == Dimension::temperature_difference)
    return kOneFahrenheit;
  return value * 0.05;
}

// As a step has it: "425 psig", "-5 °F".
std::string typed(const SetPoint& point, double value) {
  std::string out;
  const std::string words = english(Message(amount(value, point.dimension, 0)));
  for (std::size_t at = 0; at < words.size();) {
    const auto is = [&](std::string_view sign) {
      return words.compare(at, sign.size(), sign) == 0;
    };
    constexpr std::string_view kMinus = "−", kThin = "\u202F", kHard = "\u00A0";
    if (is(kMinus) || is(kThin) || is(kHard)) {
      out += is(kMinus) ? '-' : ' ';
      at += is(kHard) ? kHard.size() : kMinus.size();
    } else {
      out += words[at++];
    }
  }
  return out;
}

// Set points of its dial, to be turned by clicks and then set: a step of its own.
void offer_dials(State& state, OnSiteState& mine, std::string& step) {
  const float s = state.ink.scale;
  for (const SetPoint& point : mine.door->set_points(mine.slip)) {
    const std::string key = mine.slip + " " + point.name;
    double& value = mine.dials.try_emplace(key, point.value).first->second;
    kit::small_words(state, Term{point.name});
    ImGui::SameLine(0, 10 * s);
    if (kit::choice(state, "less " + key, Name{"−"})) value -= turn_of(point.dimension, value);
    ImGui::SameLine(0, 8 * s);
    kit::mono(state, amount(value, point.dimension, 0));
    ImGui::SameLine(0, 8 * s);
    if (kit::choice(state, "more " + key, Name{"+"})) value += turn_of(point.dimension, value);
    ImGui::SameLine(0, 12 * s);
    const std::string line =
        fmt::format("set {} {} {}", mine.slip, point.name, typed(point, value));
    const session::ParsedStep parsed = session::parse_step(line);
    if (!parsed.step) continue;
    const session::Outcome judged = mine.door->would(*parsed.step);
    if (offered(state, "do set " + key, phrase("Set it"), judged.minutes, judged.why)) step = line;
  }
}

// The conductors that end at the part: to clamp round, to lift, to land again.
void offer_wires(State& state, OnSiteState& mine, circuit::DeviceId id) {
  const circuit::Circuit& circuit = mine.view.unit->circuit;
  const std::vector<int> numbers = conductor_numbers(circuit);
  const float s = state.ink.scale;
  // Many are folded away until they are asked for.
  constexpr std::ptrdiff_t kFew = 8;
  const auto count =
      std::count_if(circuit.wires.begin(), circuit.wires.end(), [&](const circuit::Wire& wire) {
        return circuit.terminals[wire.from.slot()].device == id ||
               circuit.terminals[wire.to.slot()].device == id;
      });
  if (count > kFew && mine.wires_of != mine.slip) {
    if (kit::choice(state, "slip wires", say("{n} conductors", {{"n", Number{count}}})))
      mine.wires_of = mine.slip;
    return;
  }
  bool first = true;
  float x = 0;
  const float room = ImGui::GetContentRegionAvail().x;
  for (const circuit::Wire& wire : circuit.wires) {
    const circuit::TerminalId ends[] = {wire.from, wire.to};
    if (std::none_of(std::begin(ends), std::end(ends), [&](circuit::TerminalId t) {
          return circuit.terminals[t.slot()].device == id;
        })) {
      continue;
    }
    if (first) kit::small_words(state, phrase("Conductors"));
    // By its number and the screw that it is under; where several are under it, by where it goes.
    const bool from = circuit.terminals[wire.from.slot()].device == id;
    const circuit::TerminalId own = from ? wire.from : wire.to, other = from ? wire.to : wire.from;
    const auto under_it =
        std::count_if(circuit.wires.begin(), circuit.wires.end(),
                      [&](const circuit::Wire& it) { return it.from == own || it.to == own; });
    const std::string screw = point_of(circuit.terminals[own.slot()].name);
    std::string words = under_it == 1 ? fmt::format("{} ({})", numbers[wire.from.slot()], screw)
                                      : fmt::format("{} ({} → {})", numbers[wire.from.slot()],
                                                    screw, circuit.terminals[other.slot()].name);
    if (mine.sights.lifted.contains(wire.name))
      words += " " + SceneText{speech(state)}.word_of("seen.lifted");
    // As many in a row as there is room for.
    const float wide = std::max(24.0F, ImGui::CalcTextSize(words.c_str()).x);
    if (!first && x + 16 * s + wide <= room) {
      ImGui::SameLine(0, 16 * s);
      x += 16 * s + wide;
    } else {
      x = wide;
    }
    first = false;
    if (kit::choice(state, "slip wire " + wire.name, Name{words})) {
      mine.slip = wire.name;
      mine.at_screw.clear();
    }
  }
}

void draw_wire_slip(State& state, OnSiteState& mine, std::string& step) {
  const circuit::Circuit& circuit = mine.view.unit->circuit;
  const circuit::WireId id = circuit.find_wire(mine.slip);
  if (!id.valid()) return;
  const circuit::Wire& wire = circuit.wires[id.slot()];
  kit::strong(state,
              say("conductor {n}", {{"n", Number{conductor_numbers(circuit)[wire.from.slot()]}}}));
  kit::small_words(state, Name{fmt::format("{} – {}", circuit.terminals[wire.from.slot()].name,
                                           circuit.terminals[wire.to.slot()].name)});
  const bool lifted = mine.sights.lifted.contains(wire.name);
  std::vector<std::pair<Phrase, std::string>> lines = {
      {phrase("Clamp round it"), "clamp " + wire.name},
      {phrase("Clamp and keep the peak"), "peak " + wire.name}};
  if (lifted) {
    lines.push_back({phrase("Land it again"), "land " + wire.name});
  } else {
    lines.push_back({phrase("Lift it"), "lift " + wire.name});
  }
  for (const auto& [words, line] : lines) {
    const session::ParsedStep parsed = session::parse_step(line);
    if (!parsed.step) continue;
    const session::Outcome judged = mine.door->would(*parsed.step);
    if (offered(state, "do " + line, words, judged.minutes, judged.why)) step = line;
  }
}

// With both leads on, a third screw was chosen: which of them goes there, if any.
void offer_screw(State& state, OnSiteState& mine) {
  if (mine.at_screw.empty() || touch_of(mine.hand) != Touch::two_leads) return;
  const float s = state.ink.scale;
  for (const bool red : {true, false}) {
    if (!red) ImGui::SameLine(0, 18 * s);
    if (kit::choice(state, red ? "red here" : "black here",
                    say("{lead} → {screw}", {{"lead", red ? phrase("red") : phrase("black")},
                                             {"screw", Name{mine.at_screw}}}),
                    why_not(mine, mine.at_screw))) {
      const std::string to = mine.at_screw;
      mine.at_screw.clear();
      place_lead(state, red ? 0 : 1, to);
      return;
    }
  }
}

// Everything that was found of it, the latest first.
void draw_known(State& state, const OnSiteState& mine) {
  std::vector<std::string> lines;
  const std::string id = mine.slip.starts_with('!') ? mine.slip.substr(1) : mine.slip;
  for (auto tag = mine.view.tags.rbegin(); tag != mine.view.tags.rend() && lines.size() < 5;
       ++tag) {
    const bool of_it = std::any_of(tag->at.begin(), tag->at.end(), [&](const std::string& at) {
      return at == id || at.starts_with(id + ".");
    });
    if (!of_it) continue;
    std::string where;
    for (const std::string& at : tag->at) {
      if (at != id) where += (where.empty() ? "" : " – ") + at;
    }
    lines.push_back(fmt::format("{} · {} {}{}", clock_text(mine, tag->at_minute),
                                spoken(state, tag->shown), tag->at.size() > 1 ? where + " " : "",
                                tag->at.size() > 1 ? tag->function : ""));
  }
  kit::rule(state, 0);
  kit::small_words(state,
                   lines.empty() ? phrase("Nothing known of it yet") : phrase("Known of it"));
  for (const std::string& line : lines) kit::small_words(state, Name{line}, kit::Tone::ink);
}

void draw_part_slip(State& state, OnSiteState& mine, std::string& step) {
  const circuit::Circuit& circuit = mine.view.unit->circuit;
  const std::string id = mine.slip;
  const circuit::DeviceId device = circuit.find_device(id);
  if (device.valid()) {
    kit::strong(state,
                say("{part}  {kind}",
                    {{"part", Name{id}},
                     {"kind", Term{std::string(circuit.devices[device.slot()].kind->name)}}}));
  } else {
    kit::strong(state, id == "!cover"    ? Message(phrase("Cover"))
                       : id == "!people" ? Message(phrase("The people of the place"))
                                         : Message(Term{id.substr(1)}));
  }
  offer_screw(state, mine);
  bool any = false;
  const auto list = [&](bool of_repair) {
    for (const Action& action : mine.view.actions) {
      if (!belongs(mine, action) || (action.group == Group::repair) != of_repair) continue;
      any = true;
      // Of the cover that was clicked; the list of all steps says which.
      const bool cover = id == "!cover" && !action.step.arguments.empty();
      const Message words = !cover                                   ? action.label
                            : action.step.arguments.front() == "off" ? phrase("Take the cover off")
                                                                     : phrase("Put the cover back");
      if (offered(state, "do " + action.line, words, action.minutes,
                  action.allowed ? Message() : action.why_not))
        step = action.line;
    }
  };
  list(false);
  if (device.valid()) {
    offer_dials(state, mine, step);
    offer_pairs(state, mine, circuit.devices[device.slot()], step);
    offer_wires(state, mine, device);
    if (kit::choice(state, "slip jumper", phrase("Jumper from here"))) {
      take(mine, "jumper");
      mine.slip.clear();
      return;
    }
  }
  list(true);
  if (!any && !device.valid()) kit::small_words(state, phrase("Nothing to be done here"));
  draw_known(state, mine);
}

}  // namespace

void draw_slip(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  if (mine.slip.empty()) {
    mine.slip_at = {};
    mine.slip_laid_for.clear();
    return;
  }
  const float s = state.ink.scale, gap = 14 * s;
  const float wide = std::min(400 * s, (area.right - area.left) * 0.45F);
  if (mine.slip_beside.right <= mine.slip_beside.left) {
    for (const Sheet& sheet : open_sheets(mine)) {
      for (const Target& target : sheet.scene->targets) {
        if (target.id == mine.slip) mine.slip_beside = place_on(sheet, target.box);
      }
    }
  }
  const Place& part = mine.slip_beside;
  // To the right of it, else to the left; never over it, as long as there is room on either side.
  float x = part.right + gap;
  if (x + wide > area.right) x = part.left - gap - wide;
  if (x < area.left) x = part.middle_x() < area.middle_x() ? area.right - wide : area.left;
  const float high =
      mine.slip_at.bottom > mine.slip_at.top ? mine.slip_at.bottom - mine.slip_at.top : 300 * s;
  // Where it was laid once, it stays, however its lines come and go: nothing moves under the
  // pointer. Its height is known after two frames.
  constexpr int kLaid = 3;  // frames
  const std::string laid_for =
      fmt::format("{} {} {} {} {}", mine.slip, mine.wires_of, x, area.top, area.bottom);
  if (mine.slip_laid_for != laid_for) {
    mine.slip_laid_for = laid_for;
    mine.slip_frames = 0;
  }
  const bool laying = ++mine.slip_frames <= kLaid;
  if (laying)
    mine.slip_top = std::clamp(part.top - 10 * s, area.top, std::max(area.top, area.bottom - high));
  const float y = mine.slip_top;
  ImGui::SetNextWindowPos({std::floor(x), std::floor(y)});
  ImGui::SetNextWindowSizeConstraints({wide, 0}, {wide, area.bottom - (laying ? area.top : y)});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.5F);
  ImGui::PushStyleColor(ImGuiCol_Border, state.ink.theme.packed(Role::ink));
  ImGui::PushStyleColor(ImGuiCol_WindowBg, state.ink.theme.packed(Role::paper));
  ImGui::Begin("slip", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoSavedSettings);
  std::string step;
  const ImVec2 first = ImGui::GetCursorScreenPos();
  // Its way out stays in its upper corner, however long it is.
  const Phrase close = phrase("Close");
  ImGui::SetCursorScreenPos({ImGui::GetWindowPos().x + wide - 24 * s -
                                 ImGui::CalcTextSize(spoken(state, close).c_str()).x,
                             first.y + ImGui::GetScrollY()});
  const bool done = kit::choice(state, "close slip", close);
  ImGui::SetCursorScreenPos(first);
  if (mine.slip.find('>') != std::string::npos) {
    draw_wire_slip(state, mine, step);
  } else {
    draw_part_slip(state, mine, step);
  }
  if (done) mine.slip.clear();
  const ImVec2 at = ImGui::GetWindowPos(), size = ImGui::GetWindowSize();
  mine.slip_at = {at.x, at.y, at.x + size.x, at.y + size.y};
  state.places["slip"] = mine.slip_at;
  ImGui::End();
  ImGui::PopStyleColor(2);
  ImGui::PopStyleVar();
  if (!step.empty()) ask_step(state, step);
}

}  // namespace legwork::gui::on_site
