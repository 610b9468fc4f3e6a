// The two leads: thick round cords with a paper edge, the black one with stitches, from the jacks
// of the meter to the screws they are on; the clamp's cord and its jaw. Nothing on the machine
// looks like them.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"

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

// Points of a curve with two handles, the first one left out.
void bend(std::vector<ImVec2>& points, ImVec2 a, ImVec2 b, ImVec2 to, int chords) {
  const ImVec2 from = points.back();
  for (int i = 1; i <= chords; ++i) {
    const float t = static_cast<float>(i) / static_cast<float>(chords), u = 1 - t;
    points.push_back(
        {u * u * u * from.x + 3 * u * u * t * a.x + 3 * u * t * t * b.x + t * t * t * to.x,
         u * u * u * from.y + 3 * u * u * t * a.y + 3 * u * t * t * b.y + t * t * t * to.y});
  }
}

// Points of a cord: out of the jack upward, and to its end. Where its end is in a window that does
// not stand over the meter, it runs along the foot of the windows first, so that it lies on no
// other one.
std::vector<ImVec2> cord(ImVec2 from, ImVec2 to, const Place& window, float s) {
  constexpr int kChords = 24;
  const bool beside = window.right > window.left && (from.x < window.left || from.x > window.right);
  if (beside) {
    const float foot = (window.bottom + from.y) / 2, way = to.x > from.x ? 1.0F : -1.0F;
    const float up = std::clamp(to.x - way * 30 * s, window.left + 12 * s, window.right - 12 * s);
    const float low = std::max(window.bottom - 24 * s, to.y);
    std::vector<ImVec2> points = {from};
    bend(points, {from.x, foot}, {from.x, foot}, {from.x + way * 26 * s, foot}, 8);
    points.push_back({up - way * 20 * s, foot});
    bend(points, {up, foot}, {up, foot}, {up, low}, 8);
    bend(points, {up, low - (low - to.y) * 0.4F}, {up, to.y + 34 * s}, to, kChords);
    return points;
  }
  const float sag = std::clamp(std::abs(to.x - from.x) * 0.25F, 30 * s, 90 * s);
  const ImVec2 a{from.x, from.y - 70 * s};
  const ImVec2 b{to.x - (to.x > from.x ? 26 : -26) * s, to.y + sag};
  std::vector<ImVec2> points = {from};
  bend(points, a, b, to, kChords);
  return points;
}

void draw_cord(const State& state, const std::vector<ImVec2>& points, bool red, ImDrawList& list) {
  const float s = state.ink.scale;
  const int count = static_cast<int>(points.size());
  const unsigned paper = state.ink.theme.packed(Role::paper);
  list.AddPolyline(points.data(), count, paper, 0, 8.5F * s);
  list.AddPolyline(points.data(), count,
                   state.ink.theme.packed(red ? Role::red_lead : Role::black_lead), 0, 4.5F * s);
  if (red) return;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const ImVec2 a = points[i], b = points[i + 1];
    const ImVec2 stitch[2] = {{a.x + (b.x - a.x) * 0.35F, a.y + (b.y - a.y) * 0.35F},
                              {a.x + (b.x - a.x) * 0.6F, a.y + (b.y - a.y) * 0.6F}};
    list.AddPolyline(stitch, 2, paper, 0, 1.2F * s);
  }
}

// Tip and handle of a probe, pointing to where it stands.
void draw_probe(const State& state, const std::vector<ImVec2>& points, bool red, ImDrawList& list) {
  const float s = state.ink.scale;
  const ImVec2 to = points.back(), before = points[points.size() - 4];
  const float length = std::max(1.0F, std::hypot(to.x - before.x, to.y - before.y));
  const ImVec2 way{(to.x - before.x) / length, (to.y - before.y) / length};
  const ImVec2 tip[2] = {{to.x - way.x * 12 * s, to.y - way.y * 12 * s}, to};
  const ImVec2 handle[2] = {{to.x - way.x * 40 * s, to.y - way.y * 40 * s}, tip[0]};
  const unsigned colour = state.ink.theme.packed(red ? Role::red_lead : Role::black_lead);
  list.AddPolyline(handle, 2, state.ink.theme.packed(Role::paper), 0, 12 * s);
  list.AddPolyline(handle, 2, colour, 0, 9 * s);
  list.AddPolyline(tip, 2, state.ink.theme.packed(Role::ink), 0, 2.5F * s);
}

// A cord whose end is out of sight says at the window's edge where it is; clear of `other`, where
// the other one says it. Returns what its words cover.
Place draw_where(const State& state, const std::string& terminal, bool red, ImVec2 at,
                 const Place& window, const Place& other, ImDrawList& list) {
  const float s = state.ink.scale;
  ImFont* font = state.ink.fonts.small;
  const std::string text =
      terminal.starts_with('@')
          ? spoken(state, Term{terminal.substr(1)})
          : fmt::format("{} {}", spoken(state, red ? phrase("red") : phrase("black")), terminal);
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e9F, 0, text.c_str());
  // Within its window, clear of the words on the edge that name what else lies beyond it.
  const float wide = size.x + 10 * s, high = size.y + 4 * s, edge = std::max(24.0F, 24 * s) + 4 * s;
  const bool above = at.y < window.middle_y();
  const ImVec2 room{std::max(window.left + 2, window.right - wide - 2),
                    std::max(window.top + edge, window.bottom - edge - high)};
  ImVec2 low{std::floor(std::clamp(at.x - wide / 2, window.left + 2, room.x)),
             std::floor(std::clamp(at.y - high / 2, window.top + edge, room.y))};
  if (low.x < other.right && other.left < low.x + wide && low.y < other.bottom &&
      other.top < low.y + high)
    low.y = std::floor(above ? other.bottom + 2 * s : other.top - high - 2 * s);
  list.AddRectFilled(low, {low.x + wide, low.y + high}, state.ink.theme.packed(Role::paper));
  list.AddText(font, font->FontSize, {low.x + 5 * s, low.y + 2 * s},
               state.ink.theme.packed(red ? Role::red_lead : Role::black_lead), text.c_str());
  return {low.x, low.y, low.x + wide, low.y + high};
}

// The middle of the longest stretch of a wire in sight: where a clamp goes.
bool middle_of(const OnSiteState& mine, const std::string& id, ImVec2& at) {
  float longest = 0;
  for (const Sheet& sheet : open_sheets(mine)) {
    for (const Wire& wire : sheet.scene->wires) {
      if (wire.id != id) continue;
      for (std::size_t i = 0; i + 1 < wire.points.size(); ++i) {
        const Place run = place_on(sheet, {wire.points[i].x, wire.points[i].y, wire.points[i + 1].x,
                                           wire.points[i + 1].y});
        const float length = std::abs(run.right - run.left) + std::abs(run.bottom - run.top);
        const ImVec2 middle{run.middle_x(), run.middle_y()};
        if (length <= longest || middle.x < sheet.area.left || middle.x > sheet.area.right ||
            middle.y < sheet.area.top || middle.y > sheet.area.bottom) {
          continue;
        }
        longest = length;
        at = middle;
      }
    }
    if (longest > 0) return true;
  }
  return false;
}

}  // namespace

Touch touch_of(const std::string& verb) {
  for (const Instrument& row : kInstruments) {
    if (verb == row.verb) return row.touch;
  }
  return Touch::none;
}

void take(OnSiteState& mine, const std::string& verb) {
  const bool stay = touch_of(mine.hand) == Touch::two_leads && touch_of(verb) == Touch::two_leads;
  mine.hand = verb;
  if (!stay) {
    mine.red.clear();
    mine.black.clear();
    mine.taken = -1;
  }
  mine.shown = {};
}

void draw_lead(const State& state, PointF jack, PointF to, bool red, ImDrawList& list) {
  const std::vector<ImVec2> points = cord({jack.x, jack.y}, {to.x, to.y}, {}, state.ink.scale);
  draw_cord(state, points, red, list);
  draw_probe(state, points, red, list);
}

void draw_leads(State& state, ImDrawList& list) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  const Touch touch = touch_of(mine.hand);
  if (touch == Touch::none) return;
  const int count = touch == Touch::two_leads ? 2 : 1;
  mine.paper.grips[0] = mine.paper.grips[1] = {};
  Place said{};  // where the first lead's words lie
  for (int i = 0; i < count; ++i) {
    const bool red = i == 0 && count == 2;
    const ImVec2 jack{mine.paper.jacks[i].x, mine.paper.jacks[i].y};
    const std::string& where = i == 0 ? mine.red : mine.black;
    const char* name = i == 0 ? "lead red" : "lead black";
    const bool held = mine.dragging == i || mine.taken == i;
    PointF end{};
    Place window{};
    bool in_sight = false, on = false;
    ImVec2 at{jack.x + (i == 0 ? -14 : 16) * s, jack.y - 18 * s};
    if (held) {
      at = ImGui::GetIO().MousePos;
    } else if (touch == Touch::around_a_wire) {
      on = in_sight = !where.empty() && middle_of(mine, where, at);
    } else if (!where.empty() && where_is(mine, where, end, in_sight, window)) {
      at = {end.x, end.y};
      on = true;
    }
    if (on || held) {
      const std::vector<ImVec2> points = cord(jack, at, window, s);
      draw_cord(state, points, red, list);
      if (touch == Touch::around_a_wire) {
        list.AddCircle(at, 11 * s, state.ink.theme.packed(Role::paper), 24, 6 * s);
        list.AddCircle(at, 11 * s, state.ink.theme.packed(Role::black_lead), 24, 3 * s);
      } else if (in_sight || held) {
        draw_probe(state, points, red, list);
      } else {
        said =
            draw_where(state, where, red, {at.x + (red ? -44 : 44) * s, at.y}, window, said, list);
      }
    } else {  // coiled at the meter
      for (const float r : {9.0F, 13.0F}) {
        list.AddCircle({jack.x, jack.y - 12 * s}, r * s, state.ink.theme.packed(Role::paper), 24,
                       6 * s);
        list.AddCircle({jack.x, jack.y - 12 * s}, r * s,
                       state.ink.theme.packed(red ? Role::red_lead : Role::black_lead), 24, 3 * s);
      }
    }
    if (held) continue;
    // To be taken in hand: at the meter, or by the handle of its probe, beside the screw.
    const float half = std::max(13 * s, 12.5F);
    const bool probe = on && in_sight && touch == Touch::two_leads;
    // Of a probe: the end of its handle, as it lies.
    ImVec2 grip{jack.x, jack.y - 12 * s};
    if (probe) {
      const std::vector<ImVec2> points = cord(jack, at, window, s);
      const ImVec2 before = points[points.size() - 4];
      const float length = std::max(1.0F, std::hypot(at.x - before.x, at.y - before.y));
      grip = {at.x - (at.x - before.x) / length * 30 * s,
              at.y - (at.y - before.y) / length * 30 * s};
    }
    mine.paper.grips[i] =
        probe ? Place{grip.x - half, grip.y - half, grip.x + half, grip.y + half} : Place{};
    if (probe) {
      state.places[name] = mine.paper.grips[i];
      continue;
    }
    ImGui::SetCursorScreenPos({grip.x - half, grip.y - half});
    if (ImGui::InvisibleButton(name, {2 * half, 2 * half}) && touch == Touch::two_leads) {
      if (!where.empty()) take_off(state, i);
      mine.taken = i;
    }
    kit::remember(state, name);
    mine.paper.hung.push_back({grip.x - half, grip.y - half, grip.x + half, grip.y + half});
    if (ImGui::IsItemActive() && ImGui::IsMouseDragging(0, 4) && touch == Touch::two_leads)
      mine.dragging = i;
  }
}

}  // namespace legwork::gui::on_site
