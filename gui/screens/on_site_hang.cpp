// What hangs on the sheet: tags, the meter with its cords, the two dials.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"
#include "gui/sheet/cord.h"

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

float dial_radius(const State& state, const Place& area) {
  return std::min(78 * state.ink.scale, (area.bottom - area.top) * 0.15F);
}

// Where the two dials hang; nowhere while they are off or the sheet's face is up.
Place dials_place(const State& state, const Place& area) {
  const OnSiteState& mine = state.screens->on_site;
  if (!mine.view.instruments.gauges_on || !mine.back) return {};
  const float s = state.ink.scale, r = dial_radius(state, area);
  const float wide = 4 * r + 40 * s, high = 2 * r + 20 * s;
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
  taken.push_back(dials_place(state, sheet.area));
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

// Where on the sheet it hides least, for as long as nobody has moved it.
void hang_meter(State& state, const Sheet& sheet, float wide, float high) {
  OnSiteState& mine = state.screens->on_site;
  DoorPaper& paper = mine.paper;
  const std::string hung_for =
      fmt::format("{}|{}|{}|{}|{}|{}|{}", mine.hand, paper.panel_made_for, sheet.scene->name,
                  sheet.area.right, paper.moved, mine.view.instruments.gauges_on, paper.card_open);
  if (paper.hung_by_hand || paper.hung_for == hung_for) return;
  paper.hung_for = hung_for;
  std::vector<Place> covers = covers_on(*sheet.scene, *sheet.camera, sheet.area);
  for (const Place& it : lines_on(sheet)) covers.push_back(it);
  const Place dials = dials_place(state, sheet.area), card = card_place(state, sheet.area);
  std::vector<PointF> leads;
  for (const std::string& id : {mine.red, mine.black}) {
    const Terminal* t = id.empty() ? nullptr : terminal_on(*sheet.scene, id);
    if (t != nullptr) leads.push_back(spot(sheet, t->at));
  }
  float best = 1e9F;
  for (int row = 0; row <= 8; ++row) {
    for (int column = 0; column <= 8; ++column) {
      const float x = static_cast<float>(column) / 8, y = static_cast<float>(row) / 8;
      const float left = sheet.area.left + x * (sheet.area.right - sheet.area.left - wide);
      const float top = sheet.area.top + y * (sheet.area.bottom - sheet.area.top - high);
      const Place at{left - 8, top - 8, left + wide + 8, top + high + 8};
      float hidden = 0.2F * std::abs(x - 0.5F) + 0.2F * std::abs(y - 0.6F);
      for (const Place& it : covers) hidden += overlap(it, at) ? 1.0F : 0.0F;
      if (overlap(dials, at)) hidden += 100;
      if (overlap(card, at)) hidden += 100;
      for (const PointF& it : leads) {  // nor what is being measured
        if (overlap({it.x - 70, it.y - 40, it.x + 70, it.y + 40}, at)) hidden += 20;
      }
      if (hidden < best) {
        best = hidden;
        mine.hang_x = x;
        mine.hang_y = y;
      }
    }
  }
}

struct End {  // of a cord
  ImVec2 jack, at;
  bool hooked = false;
  bool jaw = false;
  unsigned colour = 0;
  const char* name = "";
};

std::vector<End> ends_of(const State& state, const OnSiteState& mine, const Sheet& sheet,
                         const Place& body) {
  const float s = state.ink.scale;
  const Touch touch = touch_of(mine.hand);
  const int count = touch == Touch::two_leads ? 2 : 1;
  std::vector<End> ends;
  for (int i = 0; i < count; ++i) {
    End end;
    end.colour = state.ink.theme.packed(i == 0 && count == 2 ? Role::red_lead : Role::black_lead);
    end.name = i == 0 ? "lead red" : "lead black";
    end.jack = {body.left + (count == 1 ? 88 : i == 0 ? 50 : 126) * s, body.bottom};
    end.at = {end.jack.x + (i == 0 ? -14 : 14) * s, end.jack.y + 22 * s};  // hanging loose
    const std::string& where = i == 0 ? mine.red : mine.black;
    Point middle;
    if (touch == Touch::around_a_wire && middle_of(*sheet.scene, where, middle)) {
      end.at = vec(spot(sheet, middle));
      end.hooked = end.jaw = true;
    } else if (const Terminal* home = where.empty() ? nullptr : terminal_on(*sheet.scene, where)) {
      end.at = vec(spot(sheet, home->at));
      end.hooked = true;
    }
    if (mine.dragging == i) {
      end.at = ImGui::GetIO().MousePos;
      end.hooked = false;
    }
    // The cord leaves the meter on the side where it goes.
    if (end.at.y < body.top) end.jack.y = body.top;
    ends.push_back(end);
  }
  // Cords side by side, not across one another.
  if (count == 2 && ends[0].at.x > ends[1].at.x) std::swap(ends[0].jack.x, ends[1].jack.x);
  return ends;
}

void route(State& state, const Sheet& sheet, const Place& body, const std::vector<End>& ends) {
  OnSiteState& mine = state.screens->on_site;
  const Place dials = dials_place(state, sheet.area);
  const Place card = card_place(state, sheet.area);
  std::string key = fmt::format("{} {} {:.0f} {:.0f} {:.0f} {:.0f}", key_of(sheet),
                                mine.paper.tags.size(), dials.left, dials.top, card.left, card.top);
  for (const End& end : ends)
    key += fmt::format(" {:.0f} {:.0f} {:.0f} {:.0f}", end.jack.x, end.jack.y, end.at.x, end.at.y);
  if (mine.paper.cords_for == key) return;
  mine.paper.cords_for = key;
  std::vector<Place> keep = covers_on(*sheet.scene, *sheet.camera, sheet.area);
  std::erase_if(keep, [&](const Place& it) { return overlap(it, body); });  // the slip hides them
  for (const DoorPaper::Tied& tag : mine.paper.tags) keep.push_back(tag.at);
  keep.push_back(dials);
  keep.push_back(card);
  keep.push_back({body.left + 8, body.top + 14, body.right - 8, body.bottom - 14});
  mine.paper.cords.clear();
  for (const End& end : ends) {
    mine.paper.cords.push_back(
        cord_path({end.jack.x, end.jack.y}, {end.at.x, end.at.y}, sheet.area, keep));
  }
}

void draw_end(const State& state, const End& end, ImDrawList& list) {
  const float s = state.ink.scale;
  if (end.jaw) {
    list.AddCircle(end.at, 9 * s, end.colour, 24, 2.5F * s);
    return;
  }
  list.AddCircleFilled(end.at, 6 * s, end.colour, 20);
  list.AddCircleFilled(end.at, 2 * s, state.ink.theme.packed(Role::paper), 12);
}

}  // namespace

void draw_tags(State& state, const Sheet& sheet, ImDrawList& list) {
  OnSiteState& mine = state.screens->on_site;
  const Place dials = dials_place(state, sheet.area);
  const std::string key =
      fmt::format("{} {} {} {:.0f} {:.0f}", key_of(sheet), mine.view.tags.size(), state.ink.scale,
                  dials.left, dials.top);
  if (mine.paper.tags_for != key) {
    mine.paper.tags_for = key;
    tie_tags(state, mine, sheet);
  }
  for (const DoorPaper::Tied& tag : mine.paper.tags) draw_tag(state, tag, list);
}

void draw_meter(State& state, const Sheet& sheet, ImDrawList& list) {
  OnSiteState& mine = state.screens->on_site;
  if (touch_of(mine.hand) == Touch::none) return;
  const float s = state.ink.scale;
  const float wide = 176 * s, high = 84 * s, loose = 34 * s;
  const Place& area = sheet.area;
  hang_meter(state, sheet, wide, high + loose);
  const float left =
      std::floor(area.left + std::clamp(mine.hang_x, 0.0F, 1.0F) * (area.right - area.left - wide));
  const float top = std::floor(area.top + std::clamp(mine.hang_y, 0.0F, 1.0F) *
                                              (area.bottom - area.top - high - loose));
  const Place body{left, top, left + wide, top + high};
  const unsigned ink = state.ink.theme.packed(Role::ink);
  const std::vector<End> ends = ends_of(state, mine, sheet, body);
  route(state, sheet, body, ends);
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const std::vector<PointF>& cord = mine.paper.cords[i];
    std::vector<ImVec2> points;
    for (const PointF& p : cord) points.push_back(vec(p));
    list.AddPolyline(points.data(), static_cast<int>(points.size()), ends[i].colour, 0, 2.5F * s);
    draw_end(state, ends[i], list);
    ImGui::SetCursorScreenPos({ends[i].at.x - 9 * s, ends[i].at.y - 9 * s});
    ImGui::InvisibleButton(ends[i].name, {18 * s, 18 * s});
    kit::remember(state, ends[i].name);
    if (ImGui::IsItemActive() && ImGui::IsMouseDragging(0, 3) &&
        touch_of(mine.hand) == Touch::two_leads) {
      mine.dragging = static_cast<int>(i);
    }
  }
  // A slip of paper with the reading in ink, to be moved by hand.
  list.AddRectFilled({body.left, body.top}, {body.right, body.bottom},
                     state.ink.theme.packed(Role::paper));
  list.AddRect({body.left + 0.5F, body.top + 0.5F}, {body.right + 0.5F, body.bottom + 0.5F}, ink, 0,
               0, 1.5F);
  ImGui::SetCursorScreenPos({body.left, body.top});
  ImGui::InvisibleButton("meter", {wide, high - 8 * s});
  kit::remember(state, "meter");
  mine.paper.hung.push_back(body);
  if (ImGui::IsItemActive() && ImGui::IsMouseDragging(0, 2)) {
    mine.paper.hung_by_hand = true;
    mine.hang_x = std::clamp(mine.hang_x, 0.0F, 1.0F) +
                  ImGui::GetIO().MouseDelta.x / (area.right - area.left - wide);
    mine.hang_y = std::clamp(mine.hang_y, 0.0F, 1.0F) +
                  ImGui::GetIO().MouseDelta.y / (area.bottom - area.top - high - loose);
  }
  const std::string title = spoken(state, name_of_instrument(mine.hand));
  list.AddText(state.ink.fonts.small, state.ink.fonts.small->FontSize, {left + 10 * s, top + 6 * s},
               state.ink.theme.packed(Role::dim), title.c_str());
  const std::string shown = mine.shown.empty() ? "– – –" : spoken(state, mine.shown);
  ImFont* font = state.ink.fonts.digits;
  const float size = std::min(
      font->FontSize, font->FontSize * (wide - 20 * s) / std::max(1.0F, text_width(font, shown)));
  const float shown_wide = text_width(font, shown) * size / font->FontSize;
  list.AddText(font, size, {std::floor(body.right - 10 * s - shown_wide), std::floor(top + 32 * s)},
               ink, shown.c_str());
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
  for (int i = 0; i <= steps * 5; ++i) {
    const bool large = i % 5 == 0;
    const double part = i / (steps * 5.0);
    const ImVec2 tick[2] = {at(part, radius), at(part, radius - (large ? 9 : 5) * s)};
    list.AddPolyline(tick, 2, ink, 0, large ? 1.5F : 1);
    if (large && font != nullptr)
      centred(font, font->FontSize, at(part, radius - 20 * s), fmt::format("{:g}", most * part));
  }
  const double value = std::clamp(reading, 0.0, most);
  const ImVec2 hand[2] = {at(value / most, -8 * s), at(value / most, radius - 10 * s)};
  list.AddPolyline(hand, 2, ink, 0, 2);
  list.AddCircleFilled(middle, 3 * s, ink, 12);
  centred(state.ink.fonts.mono, state.ink.fonts.mono->FontSize,
          {middle.x, middle.y + radius * 0.40F}, word);
  centred(state.ink.fonts.mono, state.ink.fonts.mono->FontSize,
          {middle.x, middle.y + radius * 0.82F}, shown);
}

}  // namespace

void draw_gauges(State& state, Place area, ImDrawList& list) {
  OnSiteState& mine = state.screens->on_site;
  if (!mine.view.instruments.gauges_on || !mine.back) return;
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
    paper.dials_x = std::clamp(paper.dials_x, 0.0F, 1.0F) +
                    ImGui::GetIO().MouseDelta.x / (area.right - area.left - wide);
    paper.dials_y = std::clamp(paper.dials_y, 0.0F, 1.0F) +
                    ImGui::GetIO().MouseDelta.y / (area.bottom - area.top - high);
  }
  const bool bar = state.settings.bar;
  const auto dial = [&](double middle, const char* word, double gauge_pa, double most, int steps) {
    const Amount shown = amount(kAtmospherePa + gauge_pa, Dimension::pressure, 0);
    const double reading =
        display_value(shown.si, shown.dimension, bar ? UnitSystem::metric : UnitSystem::trade);
    draw_dial(state, list, {left + static_cast<float>(middle), top + r + 8 * s}, r, word, reading,
              spoken(state, shown), most, steps);
  };
  dial(r + 8 * s, "LOW", mine.view.instruments.low_pa, bar ? 20 : 250, 5);
  dial(3 * r + 30 * s, "HIGH", mine.view.instruments.high_pa, bar ? 50 : 700, bar ? 5 : 7);
}

}  // namespace legwork::gui::on_site
