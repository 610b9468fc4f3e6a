// The tailgate: the bag of instruments, the meter with its functions, the latest tags, a line to
// type on, and what was answered.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <iterator>

#include "engine/base/split.h"
#include "engine/circuit/circuit.h"
#include "engine/unit/unit.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"
#include "gui/sheet/path.h"

namespace legwork::gui::on_site {
namespace {

// "cc.a1 cc.a2" with an instrument in hand is a reading with it; the leads go there. Anything else
// is a step as it is.
std::string completed(OnSiteState& mine, const std::string& typed) {
  const Touch touch = touch_of(mine.hand);
  if (touch == Touch::none) return typed;
  const unit::Unit& unit = *mine.view.unit;
  if (touch == Touch::at_a_point) {
    for (const unit::ProbePoint& probe : unit.probes) {
      if (lowered(probe.id) != lowered(typed)) continue;
      mine.red = "@" + probe.id;
      return mine.hand + " " + probe.id;
    }
    return typed;
  }
  std::vector<std::string> names;
  for (const std::string_view each : words_in(typed)) {
    const std::string word = lowered(each);
    const std::size_t before = names.size();
    if (touch == Touch::two_leads) {
      for (const circuit::Terminal& t : unit.circuit.terminals) {
        if (lowered(t.name) == word && names.size() == before) names.push_back(t.name);
      }
    } else {
      for (const circuit::Wire& wire : unit.circuit.wires) {
        if (lowered(wire.name) == word && names.size() == before) names.push_back(wire.name);
      }
    }
    if (names.size() == before) return typed;
  }
  if (names.size() != (touch == Touch::two_leads ? 2U : 1U)) return typed;
  mine.red = names.front();
  if (touch == Touch::two_leads) mine.black = names.back();
  std::string line = mine.hand;
  for (const std::string& name : names) line += " " + name;
  return line;
}

// 1 to 9 and 0 take the instruments in their order, C unfolds the card.
void take_by_key(State& state, OnSiteState& mine) {
  if (state.help || !kit::keys_free()) return;
  const std::vector<std::string> verbs = instruments();
  for (std::size_t i = 0; i < verbs.size(); ++i) {
    const int digit = (static_cast<int>(i) + 1) % 10;
    if (kit::pressed(static_cast<Key>(static_cast<int>(Key::n0) + digit))) take(mine, verbs[i]);
  }
  if (kit::pressed(Key::c)) mine.paper.card_open = !mine.paper.card_open;
}

struct Thing {
  const char* name;  // "hand clamp"
  Phrase words;
  const char* path;  // its drawing, 40 wide and 36 high, around its middle
};
constexpr Thing kThings[] = {
    {"hand clamp", phrase("Clamp"), "A 0 -6 11 120 420 R -7 4 7 18"},
    {"hand insulation", phrase("Insulation"), "R -16 -14 16 16 C 0 4 7 M -11 -8 L 11 -8"},
    {"hand gauges", phrase("Gauges"),
     "C -10 -4 9 C 10 -4 9 M -17 10 L 17 10 M -9 10 L -9 18 M 0 10 L 0 18 M 9 10 L 9 18"},
    {"hand temp", phrase("Thermometer"), "M -3 -16 L 3 -16 L 3 6 A 0 11 7 300 600 L -3 -16"},
    {"hand lamp", phrase("Lamp"),
     "R -18 -5 4 5 M 4 -5 L 13 -10 L 13 10 L 4 5 M 17 0 L 22 0 M 16 -7 L 21 -10 M 16 7 L 21 10"},
    {"hand card", phrase("P-T card"),
     "R -11 -16 11 16 M -7 -10 L 7 -10 M -7 -4 L 7 -4 M -7 2 L 7 2 M -7 8 L 7 8"},
    {"hand jumper", phrase("Jumper"), "M -16 8 Q 0 -24 16 8 R -20 6 -12 16 R 12 6 20 16"},
    {"hand gloves", phrase("Gloves"),
     "M -10 16 L -10 -2 L -14 -6 L -11 -10 L -6 -6 L -6 -14 L -2 -14 L -2 -16 L 2 -16 L 2 -14 L 6 "
     "-14 "
     "L 6 -12 L 10 -12 L 10 16 L -10 16 M -10 10 L 10 10"},
};

void draw_icon(State& state, ImDrawList& list, const char* path, ImVec2 middle, Role role) {
  const float s = state.ink.scale;
  for (const Stroke& stroke : read_path(path)) {
    std::vector<ImVec2> points;
    for (const PointF& p : stroke.points)
      points.push_back({middle.x + p.x * s, middle.y + p.y * s});
    if (stroke.closed) points.push_back(points.front());
    list.AddPolyline(points.data(), static_cast<int>(points.size()), state.ink.theme.packed(role),
                     0, 1.5F * s);
  }
}

void take_thing(State& state, OnSiteState& mine, const std::string& name) {
  if (name == "hand gauges") {
    give_step(state, mine.view.instruments.gauges_on ? "gauges" : "gauges on");
  } else if (name == "hand lamp") {
    mine.lamp = !mine.lamp;
    mine.steps_open = mine.lamp;
    if (mine.lamp) mine.group = "on site.look";
  } else if (name == "hand gloves") {
    give_step(state, mine.view.instruments.gloves_on ? "gloves off" : "gloves on");
  } else if (name == "hand card") {
    mine.paper.card_open = !mine.paper.card_open;
  } else {
    const std::string verb = name.substr(5);
    take(mine, mine.hand == verb ? "volts" : verb);
  }
  mine.bag_open = false;
}

bool in_use(const OnSiteState& mine, const std::string& name) {
  if (name == "hand gauges") return mine.view.instruments.gauges_on;
  if (name == "hand lamp") return mine.lamp;
  if (name == "hand gloves") return mine.view.instruments.gloves_on;
  if (name == "hand card") return mine.paper.card_open;
  return name == "hand " + mine.hand;
}

// A cell that can be chosen whole: its drawing, if there is room for it, and its name.
bool draw_thing(State& state, const Thing& thing, Place cell, bool icon, bool used) {
  const float s = state.ink.scale;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  ImGui::SetCursorScreenPos({cell.left, cell.top});
  bool chosen =
      ImGui::InvisibleButton(thing.name, {cell.right - cell.left, cell.bottom - cell.top});
  const bool focused = ImGui::IsItemFocused();
  if (focused && ImGui::GetIO().NavVisible && kit::pressed(Key::enter)) chosen = true;
  if (focused) state.focused = thing.name;
  kit::remember(state, thing.name);
  const bool near = ImGui::IsItemHovered() || focused;
  const Role role = used || near ? Role::pen : Role::ink;
  ImFont* font = state.ink.fonts.small;
  const std::string words = spoken(state, thing.words);
  const float wide = font->CalcTextSizeA(font->FontSize, 1e9F, 0, words.c_str()).x;
  const float left = std::floor(cell.left + 4 * s);
  const float top = std::floor(icon ? cell.bottom - font->FontSize - 5 * s
                                    : (cell.top + cell.bottom - font->FontSize) / 2);
  if (icon) draw_icon(state, list, thing.path, {cell.left + 24 * s, top - 21 * s}, role);
  if (used)
    list.AddRectFilled({left - 3 * s, top - 1}, {left + wide + 3 * s, top + font->FontSize + 3 * s},
                       state.ink.theme.packed(Role::marker));
  list.AddText(font, font->FontSize, {left, top}, state.ink.theme.packed(role), words.c_str());
  const ImVec2 under[2] = {{left, top + font->FontSize + 1.5F},
                           {left + wide, top + font->FontSize + 1.5F}};
  list.AddPolyline(under, 2, state.ink.theme.packed(role), 0, near ? 2.0F : 1.0F);
  return chosen;
}

// Instruments as small ink things, four in a row; in little room their names alone.
void draw_things(State& state, OnSiteState& mine, Place area, bool icons) {
  const float column = (area.right - area.left) / 4, row = (area.bottom - area.top) / 2;
  int n = 0;
  std::string taken;
  for (const Thing& thing : kThings) {
    const std::string name = thing.name;
    if (name == "hand gauges" && mine.view.unit->gauge_place.empty()) continue;
    const float left = area.left + column * static_cast<float>(n % 4);
    const float top = area.top + row * static_cast<float>(n / 4);
    ++n;
    if (draw_thing(state, thing, {left, top, left + column - 2, top + row - 2}, icons,
                   in_use(mine, name)))
      taken = name;
  }
  if (!taken.empty()) take_thing(state, mine, taken);
}

// The latest tags, as paper; the rest behind one word.
void draw_tag_row(State& state, OnSiteState& mine, Place area, int most) {
  const float s = state.ink.scale,
              wide = (area.right - area.left - 90 * s) / static_cast<float>(most);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  ImFont* small = state.ink.fonts.small;
  int n = 0;
  for (auto tag = mine.view.tags.rbegin(); tag != mine.view.tags.rend() && n < most; ++tag, ++n) {
    const float left = area.left + static_cast<float>(n) * wide, right = left + wide - 8 * s;
    const float cut = 8 * s, top = area.top, bottom = area.top + 46 * s;
    const ImVec2 edge[] = {{left, top + cut}, {left + cut, top},    {right, top},
                           {right, bottom},   {left + cut, bottom}, {left, bottom - cut}};
    list.AddConvexPolyFilled(edge, 6, state.ink.theme.packed(Role::tag));
    const ImVec2 closed[] = {edge[0], edge[1], edge[2], edge[3], edge[4], edge[5], edge[0]};
    if (tag->stale.empty()) {
      list.AddPolyline(closed, 7, state.ink.theme.packed(Role::dim), 0, 1);
    } else {  // dashed
      for (int i = 0; i < 6; ++i) {
        const ImVec2 p = closed[i], q = closed[i + 1];
        const int dashes =
            std::max(1, static_cast<int>(std::hypot(q.x - p.x, q.y - p.y) / (7 * s)));
        for (int k = 0; k < dashes; ++k) {
          const float u = static_cast<float>(k) / static_cast<float>(dashes);
          const float v = u + 0.55F / static_cast<float>(dashes);
          const ImVec2 dash[2] = {{p.x + (q.x - p.x) * u, p.y + (q.y - p.y) * u},
                                  {p.x + (q.x - p.x) * v, p.y + (q.y - p.y) * v}};
          list.AddPolyline(dash, 2, state.ink.theme.packed(Role::dim), 0, 1);
        }
      }
    }
    list.AddCircle({left + 7 * s, (top + bottom) / 2}, 2.5F * s, state.ink.theme.packed(Role::dim),
                   10, 1);
    std::string where;
    for (const std::string& at : tag->at) where += (where.empty() ? "" : "–") + at;
    const float room = right - left - 20 * s;
    list.AddText(state.ink.fonts.mono, state.ink.fonts.mono->FontSize,
                 {std::floor(left + 15 * s), std::floor(top + 3 * s)},
                 state.ink.theme.packed(Role::ink),
                 kit::shortened(state.ink.fonts.mono,
                                fmt::format("{} {}", tag->number, spoken(state, tag->shown)), room)
                     .c_str());
    list.AddText(small, small->FontSize,
                 {std::floor(left + 15 * s), std::floor(bottom - small->FontSize - 4 * s)},
                 state.ink.theme.packed(Role::dim),
                 kit::shortened(small,
                                tag->stale.empty() ? fmt::format("{} · {}", where,
                                                                 clock_text(mine, tag->at_minute))
                                                   : spoken(state, tag->stale),
                                room)
                     .c_str());
  }
  kit::at(area.right - 84 * s, area.top + 10 * s);
  const int more = static_cast<int>(mine.view.tags.size()) - n;
  if (kit::choice(
          state, "pad",
          more > 0 ? say("{n} more", {{"n", Number{more}}}) : Message(phrase("Readings")))) {
    mine.pad_open = !(mine.pad_open && !mine.pad_trail);
    mine.pad_trail = false;
  }
}

}  // namespace

void draw_tailgate(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  const bool small = is_small(state);
  take_by_key(state, mine);
  float left = area.left;
  const auto wide_of = [&](const Phrase& words) {
    return ImGui::CalcTextSize(spoken(state, words).c_str()).x;
  };
  if (small) {
    kit::at(left, area.top + 6 * s);
    if (kit::choice(state, "bag", phrase("Bag"))) mine.bag_open = !mine.bag_open;
    kit::at(left, area.top + 34 * s);
    if (kit::choice(state, "all steps", phrase("All steps"))) mine.steps_open = !mine.steps_open;
    left += std::max({88 * s, wide_of(phrase("Bag")), wide_of(phrase("All steps"))}) + 16 * s;
  } else {
    draw_things(state, mine, {left, area.top, left + 344 * s, area.bottom}, true);
    left += 356 * s;
  }
  const Place meter{left, area.top, left + meter_wide(state), area.bottom - 2};
  draw_meter(state, meter);
  left = meter.right + 18 * s;
  draw_tag_row(state, mine, {left, area.top, area.right, 0}, small ? 2 : 4);
  // What was answered, and the line to type on.
  const float field = area.bottom - std::max(32 * s, 28.0F) - 6 * s;
  const float links = (small ? 0 : wide_of(phrase("All steps")) + 16 * s) +
                      wide_of(phrase("Ring the shop")) + wide_of(phrase("Write it up")) + 52 * s;
  // Beside it what was watched.
  const float chart = mine.watched.empty() ? 0 : std::min(300 * s, (area.right - left) * 0.5F);
  if (chart > 0)
    draw_watched(state,
                 {area.right - chart + 12 * s, area.top + 54 * s, area.right, field - 6 * s});
  ImGui::SetCursorScreenPos({left, area.top + 52 * s});
  ImGui::BeginChild("answer", {area.right - left - chart, field - area.top - 54 * s}, false);
  for (const Message& line : mine.answer)
    kit::words(state, line, mine.refused ? kit::Tone::pen : kit::Tone::ink,
               area.right - left - chart - 16 * s);
  ImGui::EndChild();
  kit::at(left, field);
  ImGui::PushAllowKeyboardFocus(false);
  if (kit::field(state, "step", mine.typed, std::max(120 * s, area.right - left - links),
                 phrase("a step, typed: volts CC.A1 CC.A2"))) {
    const std::string line = completed(mine, mine.typed);
    if (!line.empty()) ask_step(state, line);
    if (!mine.refused) mine.typed.clear();  // a slip of the pen stays, to be mended
    if (mine.refused) state.focus = "step";
  }
  ImGui::PopAllowKeyboardFocus();
  kit::at(area.right - links + 14 * s, field - 1 * s);
  if (!small) {
    if (kit::choice(state, "all steps", phrase("All steps"))) mine.steps_open = !mine.steps_open;
    ImGui::SameLine(0, 16 * s);
  }
  std::string step;
  if (kit::choice(state, "ring the shop", phrase("Ring the shop"))) step = "ring the shop";
  const float rung = ImGui::GetItemRectMin().x;
  ImGui::SameLine(0, 16 * s);
  if (kit::choice(state, "to write-up", phrase("Write it up"))) state.screen = "write-up";
  ImGui::SetCursorScreenPos({rung, field + 23 * s});
  kit::small_words(
      state, say("{time}, {points} points", {{"time", Name{minutes_text(mine.view.shop_minutes)}},
                                             {"points", Number{mine.view.shop_points, 0}}}));
  if (small && mine.bag_open) {
    const float wide = 420 * s, high = 84 * s;
    ImGui::SetNextWindowPos({area.left, area.top - high - 8 * s});
    ImGui::SetNextWindowSize({wide, high});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
    ImGui::Begin("bag paper", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoSavedSettings);
    draw_things(state, mine,
                {area.left + 14 * s, area.top - high, area.left + wide - 8 * s, area.top - 22 * s},
                false);
    ImGui::End();
    ImGui::PopStyleVar();
  }
  if (!step.empty()) give_step(state, step);
}

}  // namespace legwork::gui::on_site
