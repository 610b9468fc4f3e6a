// The P-T card: saturation of the unit's refrigerant, unfolded from the bag. Bubble is what
// subcooling is counted from, dew what superheat is counted from.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "engine/base/quantity.h"
#include "engine/plant/refrigerant.h"
#include "engine/unit/unit.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"

namespace legwork::gui::on_site {
namespace {

constexpr int kBlocks = 3, kRows = 18;
constexpr double kPascalsInBar = 1e5;

// Gauge pressures of a block, in the card's unit: close together where evaporators work.
double pressure_at(bool bar, int block, int row) {
  static constexpr double kPsi[kBlocks][2] = {{0, 2}, {38, 6}, {150, 25}};
  static constexpr double kBar[kBlocks][2] = {{0, 0.15}, {2.8, 0.4}, {10.5, 1.75}};
  const auto& from = bar ? kBar[block] : kPsi[block];
  return from[0] + from[1] * row;
}

std::string degrees(double k, bool celsius) {
  const double value = celsius ? k - 273.15 : k * 1.8 - 459.67;
  const double tenths = std::round(value * 10) / 10;
  return fmt::format("{}{:.1f}", tenths < 0 ? "−" : "", std::abs(tenths));
}

struct Measures {  // pixels
  float line, column, pad, block;
};

Measures measures(const State& state) {
  const float s = state.ink.scale, column = 54 * s, pad = 14 * s;
  return {std::floor(state.ink.fonts.small->FontSize * 1.08F), column, pad, 3 * column + pad};
}

}  // namespace

namespace {

Place card_place(const State& state, const Place& area) {
  const DoorPaper& paper = state.screens->on_site.paper;
  if (!paper.card_open) return {};
  const Measures by = measures(state);
  const float wide = kBlocks * by.block + by.pad, high = (kRows + 3) * by.line + 2 * by.pad;
  const float left = std::floor(area.left + std::clamp(paper.card_x, 0.0F, 1.0F) *
                                                std::max(1.0F, area.right - area.left - wide));
  const float top = std::floor(area.top + std::clamp(paper.card_y, 0.0F, 1.0F) *
                                              std::max(1.0F, area.bottom - area.top - high));
  return {left, top, left + wide, top + high};
}

}  // namespace

void draw_card(State& state, Place area, ImDrawList& list) {
  OnSiteState& mine = state.screens->on_site;
  DoorPaper& paper = mine.paper;
  const plant::Params& plant = mine.view.unit->plant;
  if (!paper.card_open || plant.refrigerant == nullptr) return;
  const float s = state.ink.scale;
  ImFont* font = state.ink.fonts.small;
  const Measures by = measures(state);
  const float line = by.line, column = by.column, pad = by.pad, block = by.block;
  const Place card = card_place(state, area);
  const float left = card.left, top = card.top;
  const float wide = card.right - left, high = card.bottom - top;
  ImGui::SetCursorScreenPos({left, top});
  ImGui::InvisibleButton("card", {wide, high});
  kit::remember(state, "card");
  paper.hung.push_back(card);
  if (ImGui::IsItemActive() && ImGui::IsMouseDragging(0, 2)) {
    const ImVec2 moved = ImGui::GetIO().MouseDelta;
    paper.card_x = std::clamp(paper.card_x, 0.0F, 1.0F) +
                   moved.x / std::max(1.0F, area.right - area.left - wide);
    paper.card_y = std::clamp(paper.card_y, 0.0F, 1.0F) +
                   moved.y / std::max(1.0F, area.bottom - area.top - high);
  }
  const unsigned ink = state.ink.theme.packed(Role::ink), dim = state.ink.theme.packed(Role::dim);
  list.AddRectFilled({left, top}, {left + wide, top + high}, state.ink.theme.packed(Role::tag));
  list.AddRect({left + 0.5F, top + 0.5F}, {left + wide + 0.5F, top + high + 0.5F}, ink);
  const auto write = [&](ImFont* in, float right, float y, const std::string& text, unsigned how) {
    const float size = in->CalcTextSizeA(in->FontSize, 1e9F, 0, text.c_str()).x;
    list.AddText(in, in->FontSize, {std::floor(right - size), std::floor(y)}, how, text.c_str());
  };
  const std::string title =
      fmt::format("{} · {}", plant.refrigerant->name(), spoken(state, phrase("P-T card")));
  list.AddText(state.ink.fonts.body, state.ink.fonts.body->FontSize, {left + pad, top + 8 * s}, ink,
               title.c_str());
  const bool bar = state.settings.bar, celsius = state.settings.celsius;
  const double atmosphere = plant::atmosphere_pa(plant.altitude_m);
  const double most = plant.refrigerant->bubble_pa(150 / 1.8 + 459.67 / 1.8);  // 150 °F
  for (int b = 0; b < kBlocks; ++b) {
    const float x = left + pad + static_cast<float>(b) * block;
    float y = top + pad + line * 1.4F;
    write(font, x + column, y, bar ? "bar" : "psig", dim);
    write(font, x + 2 * column, y, spoken(state, phrase("bubble")), dim);
    write(font, x + 3 * column, y, spoken(state, phrase("dew")), dim);
    y += line * 1.2F;
    for (int row = 0; row < kRows; ++row, y += line) {
      const double gauge = pressure_at(bar, b, row);
      const double pa = atmosphere + gauge * (bar ? kPascalsInBar : kPascalsPerPsi);
      if (pa > most) break;  // beyond its table
      const plant::Saturation at = plant.refrigerant->at_pressure(pa);
      write(font, x + column, y, fmt::format("{:.{}f}", gauge, bar ? 2 : 0), ink);
      write(font, x + 2 * column, y, degrees(at.bubble_k, celsius), ink);
      write(font, x + 3 * column, y, degrees(at.dew_k, celsius), ink);
      if (row % 6 == 5 && row + 1 < kRows) {
        const float under = std::floor(y + line) - 0.5F;
        const ImVec2 rule[2] = {{x + 8 * s, under}, {x + 3 * column, under}};
        list.AddPolyline(rule, 2, state.ink.theme.packed(Role::rule), 0, 1);
      }
    }
  }
  const std::string foot =
      fmt::format("{} · {}", celsius ? "°C" : "°F",
                  spoken(state, phrase("subcooling from bubble, superheat from dew")));
  list.AddText(font, font->FontSize, {left + pad, top + high - line - 5 * s}, dim, foot.c_str());
}

}  // namespace legwork::gui::on_site
