// What hangs on the sheets: tags where readings were taken, the two dials.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"

namespace legwork::gui::on_site {
namespace {

PointF spot(const Sheet& sheet, Point at) {
  return {sheet.camera->screen_x(static_cast<float>(at.x)),
          sheet.camera->screen_y(static_cast<float>(at.y))};
}
ImVec2 vec(PointF p) { return {p.x, p.y}; }

bool overlap(const Place& a, const Place& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

bool within(const Place& a, const Place& area) {
  return a.left >= area.left && a.right <= area.right && a.top >= area.top &&
         a.bottom <= area.bottom;
}

// The face of the condenser on the page, if it stands in that area; under it is room to hang
// things.
bool face_in(const State& state, const Place& area, Place& face) {
  const OnSiteState& mine = state.screens->on_site;
  if (area.left != mine.outside_area.left || area.right != mine.outside_area.right) return false;
  for (const Target& target : mine.outside.targets) {
    if (target.id != "!condenser") continue;
    face = place_on({&mine.outside, &mine.outside_camera, area}, target.box);
    return face.bottom > area.top && face.bottom + 60 * state.ink.scale < area.bottom;
  }
  return false;
}

float dial_radius(const State& state, const Place& area) {
  const float s = state.ink.scale;
  const float most =
      std::min({56 * s, (area.bottom - area.top) * 0.15F, (area.right - area.left - 40 * s) / 4});
  // From the face down to the suction line, in units of the drawn site.
  constexpr float kRow = 140;
  Place face{};
  if (state.screens->on_site.paper.dials_moved || !face_in(state, area, face)) return most;
  return std::min(most, (kRow * state.screens->on_site.outside_camera.zoom - 20 * s) / 2);
}

// Where the two dials hang; nowhere while they are off or the sheet's face is up.
Place dials_place(const State& state, const Place& area) {
  const OnSiteState& mine = state.screens->on_site;
  if (!mine.view.instruments.gauges_on || mine.view.place != mine.view.unit->gauge_place) return {};
  const float s = state.ink.scale, r = dial_radius(state, area);
  const float wide = 4 * r + 40 * s, high = 2 * r + 20 * s;
  Place face{};
  if (!mine.paper.dials_moved && face_in(state, area, face)) {
    const float right = std::min(face.right, area.right - 2);
    return {right - wide, face.bottom + 4 * s, right, face.bottom + 4 * s + high};
  }
  const float left =
      area.left + std::clamp(mine.paper.dials_x, 0.0F, 1.0F) * (area.right - area.left - wide);
  const float top =
      area.top + std::clamp(mine.paper.dials_y, 0.0F, 1.0F) * (area.bottom - area.top - high);
  return {left, top, left + wide, top + high};
}

std::string key_of(const Sheet& sheet) {
  return fmt::format("{} {:.1f} {:.1f} {:.4f} {} {}", sheet.scene->name, sheet.camera->x,
                     sheet.camera->y, sheet.camera->zoom, sheet.area.right, sheet.area.bottom);
}

float text_width(ImFont* font, const std::string& text) {
  return font->CalcTextSizeA(font->FontSize, 1e9F, 0, text.c_str()).x;
}

// Nearest to the knot that hides nothing: round it, ring after ring.
Place room_for(PointF knot, float wide, float high, const Place& area,
               const std::vector<Place>& taken, const std::vector<Place>& lines) {
  Place first{}, on_line{};
  const auto clear = [](const Place& at, const std::vector<Place>& of) {
    return std::none_of(of.begin(), of.end(), [&](const Place& it) { return overlap(it, at); });
  };
  for (const float ring : {16.0F, 28.0F, 42.0F, 58.0F, 78.0F, 100.0F, 130.0F, 170.0F}) {
    for (int i = 0; i < 16; ++i) {
      // From the upper right round.
      const float angle = (-0.25F + 0.125F * static_cast<float>(i)) * std::numbers::pi_v<float>;
      const float x = knot.x + std::cos(angle) * (ring + wide / 2);
      const float y = knot.y + std::sin(angle) * (ring + high / 2);
      const Place at{std::floor(x - wide / 2), std::floor(y - high / 2), std::floor(x + wide / 2),
                     std::floor(y + high / 2)};
      if (first.right == 0) first = at;
      if (!within(at, area) || !clear(at, taken)) continue;
      if (clear(at, lines)) return at;
      if (on_line.right == 0) on_line = at;
    }
    if (ring > 70 && on_line.right != 0) return on_line;  // rather near than clear of every line
  }
  return on_line.right != 0 ? on_line : first;
}

// The middle of the longest stretch of a wire: where a clamp goes.
bool middle_of(const Scene& scene, const std::string& id, Point& at) {
  int longest = 0;
  for (const Wire& wire : scene.wires) {
    if (wire.id != id) continue;
    for (std::size_t i = 0; i + 1 < wire.points.size(); ++i) {
      const Point a = wire.points[i], b = wire.points[i + 1];
      const int length = std::abs(a.x - b.x) + std::abs(a.y - b.y);
      if (length <= longest) continue;
      longest = length;
      at = {(a.x + b.x) / 2, (a.y + b.y) / 2};
    }
  }
  return longest > 0;
}

std::vector<Place> lines_on(const Sheet& sheet) {
  std::vector<Place> list;
  for (const Wire& wire : sheet.scene->wires) {
    for (std::size_t i = 0; i + 1 < wire.points.size(); ++i) {
      const PointF a = spot(sheet, wire.points[i]), b = spot(sheet, wire.points[i + 1]);
      const Place it{std::min(a.x, b.x) - 2, std::min(a.y, b.y) - 2, std::max(a.x, b.x) + 2,
                     std::max(a.y, b.y) + 2};
      if (overlap(it, sheet.area)) list.push_back(it);
    }
  }
  return list;
}

// The number at both ends, what was read at the first.
void tie_tags(const State& state, OnSiteState& mine, const Sheet& sheet) {
  const float s = state.ink.scale;
  std::vector<Place> taken = covers_on(*sheet.scene, *sheet.camera, sheet.area);
  for (const Terminal& t : sheet.scene->terminals) {
    const PointF p = spot(sheet, t.at);
    taken.push_back({p.x - 5, p.y - 5, p.x + 5, p.y + 5});
  }
  const std::vector<Place> lines = lines_on(sheet);
  mine.paper.tags.clear();
  for (const session::Tag& tag : mine.view.tags) {
    for (std::size_t i = 0; i < tag.at.size() && i < 2; ++i) {
      const Terminal* home = terminal_on(*sheet.scene, tag.at[i]);
      if (home == nullptr) home = terminal_on(*sheet.scene, "@" + tag.at[i]);
      Point at_wire;
      const bool wire = home == nullptr && middle_of(*sheet.scene, tag.at[i], at_wire);
      if (home == nullptr && !wire) continue;
      const PointF knot = spot(sheet, wire ? at_wire : home->at);
      if (knot.x < sheet.area.left || knot.x > sheet.area.right || knot.y < sheet.area.top ||
          knot.y > sheet.area.bottom) {
        continue;
      }
      const std::string text = i == 0 && !tag.shown.empty()
                                   ? fmt::format("{} · {}", tag.number, spoken(state, tag.shown))
                                   : std::to_string(tag.number);
      const float wide = text_width(state.ink.fonts.small, text) + 20 * s;
      const Place at = room_for(knot, wide, 20 * s, sheet.area, taken, lines);
      taken.push_back(at);
      mine.paper.tags.push_back({tag.number, text, at, knot});
    }
  }
}

void draw_tag(const State& state, const DoorPaper::Tied& tag, ImDrawList& list) {
  const float s = state.ink.scale;
  const Place& at = tag.at;
  const unsigned ink = state.ink.theme.packed(Role::ink), dim = state.ink.theme.packed(Role::dim);
  const bool right = at.left + 8 * s > tag.knot.x;  // the eye stands towards the knot
  const ImVec2 eye{right ? at.left + 7 * s : at.right - 7 * s, at.middle_y()};
  const ImVec2 string[2] = {vec(tag.knot), eye};
  list.AddPolyline(string, 2, dim, 0, 1);
  list.AddRectFilled({at.left, at.top}, {at.right, at.bottom}, state.ink.theme.packed(Role::tag));
  list.AddRect({at.left + 0.5F, at.top + 0.5F}, {at.right + 0.5F, at.bottom + 0.5F}, dim);
  list.AddCircle(eye, 2.5F * s, dim, 10, 1);
  ImFont* font = state.ink.fonts.small;
  const float x = right ? at.left + 14 * s : at.left + 5 * s;
  list.AddText(font, font->FontSize,
               {std::floor(x), std::floor(at.middle_y() - font->FontSize / 2)}, ink,
               tag.text.c_str());
}

}  // namespace

void draw_tags(State& state, const Sheet& sheet, ImDrawList& list) {
  OnSiteState& mine = state.screens->on_site;
  const std::string key =
      fmt::format("{} {} {}", key_of(sheet), mine.view.tags.size(), state.ink.scale);
  if (mine.paper.tags_for != key) {
    mine.paper.tags_for = key;
    tie_tags(state, mine, sheet);
  }
  for (const DoorPaper::Tied& tag : mine.paper.tags) draw_tag(state, tag, list);
}

namespace {

// One dial: a plain scale from 0 on, in the unit that the reading comes in.
void draw_dial(const State& state, ImDrawList& list, ImVec2 middle, float radius, const char* word,
               double reading, const std::string& shown, double most, int steps) {
  const float s = state.ink.scale;
  const unsigned ink = state.ink.theme.packed(Role::ink);
  list.AddCircleFilled(middle, radius + 4 * s, state.ink.theme.packed(Role::paper), 64);
  list.AddCircle(middle, radius + 4 * s, ink, 64, 1.5F);
  const auto at = [&](double part, float r) {
    const double angle = (0.75 + 1.5 * part) * std::numbers::pi;
    return ImVec2{middle.x + static_cast<float>(std::cos(angle)) * r,
                  middle.y + static_cast<float>(std::sin(angle)) * r};
  };
  ImFont* font = state.ink.fonts.sheet(true, 11 * s);
  const auto centred = [&](ImFont* in, float size, ImVec2 where, const std::string& text) {
    const ImVec2 box = in->CalcTextSizeA(size, 1e9F, 0, text.c_str());
    list.AddText(in, size, {std::floor(where.x - box.x / 2), std::floor(where.y - box.y / 2)}, ink,
                 text.c_str());
  };
  // On a small dial its figures would lie on one another: the reading is written below.
  const bool figures = radius > 3.6F * state.ink.fonts.small->FontSize;
  for (int i = 0; i <= steps * 5; ++i) {
    const bool large = i % 5 == 0;
    const double part = i / (steps * 5.0);
    const ImVec2 tick[2] = {at(part, radius), at(part, radius - (large ? 9 : 5) * s)};
    list.AddPolyline(tick, 2, ink, 0, large ? 1.5F : 1);
    if (large && font != nullptr && figures)
      centred(font, font->FontSize, at(part, radius - 20 * s), fmt::format("{:g}", most * part));
  }
  const double value = std::clamp(reading, 0.0, most);
  const ImVec2 hand[2] = {at(value / most, -8 * s), at(value / most, radius - 10 * s)};
  list.AddPolyline(hand, 2, ink, 0, 2);
  list.AddCircleFilled(middle, 3 * s, ink, 12);
  centred(state.ink.fonts.mono, state.ink.fonts.mono->FontSize,
          {middle.x, middle.y + (figures ? radius * 0.40F : -radius * 0.45F)}, word);
  centred(state.ink.fonts.mono, state.ink.fonts.mono->FontSize,
          {middle.x, middle.y + (figures ? radius * 0.82F : radius * 0.55F)}, shown);
}

}  // namespace

void draw_gauges(State& state, Place area, ImDrawList& list) {
  OnSiteState& mine = state.screens->on_site;
  if (!mine.view.instruments.gauges_on || mine.view.place != mine.view.unit->gauge_place) return;
  const float s = state.ink.scale;
  const float r = dial_radius(state, area);
  DoorPaper& paper = mine.paper;
  const Place at = dials_place(state, area);
  const float left = at.left, top = at.top, wide = at.right - left, high = at.bottom - top;
  ImGui::SetCursorScreenPos({left, top});
  ImGui::InvisibleButton("gauges", {wide, high});
  kit::remember(state, "gauges");
  paper.hung.push_back(at);
  if (ImGui::IsItemActive() && ImGui::IsMouseDragging(0, 2)) {
    if (!paper.dials_moved) {  // on from where they hang
      paper.dials_moved = true;
      paper.dials_x = (left - area.left) / (area.right - area.left - wide);
      paper.dials_y = (top - area.top) / (area.bottom - area.top - high);
    }
    paper.dials_x = std::clamp(paper.dials_x, 0.0F, 1.0F) +
                    ImGui::GetIO().MouseDelta.x / (area.right - area.left - wide);
    paper.dials_y = std::clamp(paper.dials_y, 0.0F, 1.0F) +
                    ImGui::GetIO().MouseDelta.y / (area.bottom - area.top - high);
  }
  const bool bar = state.settings.bar;
  const auto dial = [&](double middle, const char* word, double needle_pa, double gauge_pa,
                        double most, int steps) {
    const Amount shown = amount(kAtmospherePa + gauge_pa, Dimension::pressure, 0);
    const double reading =
        display_value(kAtmospherePa + (needle_pa < 0 ? gauge_pa : needle_pa), shown.dimension,
                      bar ? UnitSystem::metric : UnitSystem::trade);
    draw_dial(state, list, {left + static_cast<float>(middle), top + r + 8 * s}, r, word, reading,
              spoken(state, shown), most, steps);
  };
  dial(r + 8 * s, "LOW", mine.needles[0], mine.view.instruments.low_pa, bar ? 20 : 250, 5);
  dial(3 * r + 30 * s, "HIGH", mine.needles[1], mine.view.instruments.high_pa, bar ? 50 : 700,
       bar ? 5 : 7);
}

}  // namespace legwork::gui::on_site
