#include "gui/screens/symbol_sheet.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "gui/kit.h"
#include "gui/screens/screens.h"
#include "gui/screens/states.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {

namespace {
constexpr int kColumn = 310, kRow = 130;
constexpr int kMargin = 30;
}  // namespace

Scene symbol_scene(const Speech& speech, int columns) {
  Scene scene{.name = "symbols"};
  int n = 0;
  for (const SymbolKind& kind : symbol_kinds()) {
    const Point at{n % columns * kColumn, n / columns * kRow};
    const std::string id(kind.name);
    scene.symbols.push_back({.kind = id, .id = id, .at = at});
    for (const Port& port : kind.ports) {
      scene.terminals.push_back(
          {.id = id + "." + std::string(port.name), .at = {at.x + port.at.x, at.y + port.at.y}});
    }
    scene.labels.push_back({.text = render(kind.words, speech),
                            .at = {at.x, at.y + std::max(44, bounds_of(kind).bottom + 12)},
                            .face = Face::words,
                            .size = 12,
                            .id = id});
    ++n;
  }
  scene.labels.push_back(
      {.text = render(phrase("Drawn de-energised, at atmospheric pressure and room temperature."),
                      speech),
       .at = {columns * kColumn / 2 - kColumn / 2, -70},
       .face = Face::words,
       .size = 15});
  scene.extent = extent_of(scene, kMargin);
  return scene;
}

void draw_symbol_sheet(State& state) {
  SymbolSheetState& mine = state.screens->symbol_sheet;
  const float s = state.ink.scale;
  kit::heading(state, phrase("The symbols on our sheets"));
  if (!state.help && kit::pressed(Key::escape)) go_back(state);
  if (kit::pressed(Key::f) && !ImGui::GetIO().KeyCtrl) mine.whole = !mine.whole;
  const ImVec2 from = ImGui::GetCursorScreenPos();
  // It ends over the foot of the page: what is cut there goes on.
  const ImVec2 room{ImGui::GetContentRegionAvail().x,
                    ImGui::GetIO().DisplaySize.y - 10 * s - from.y};
  // As many columns as have room with names that can be read; the rest by scrolling.
  const int columns =
      mine.whole ? 6
                 : std::clamp(static_cast<int>((room.x - 2 * kMargin * s) / (kColumn * s)), 1, 8);
  if (mine.language != state.settings.language || mine.columns != columns) {
    mine.language = state.settings.language;
    mine.columns = columns;
    mine.scene = symbol_scene(speech(state), columns);
  }
  const Scene& scene = mine.scene;
  const auto high = static_cast<float>(scene.extent.bottom - scene.extent.top);
  ImGui::BeginChild("symbols", room, false, ImGuiWindowFlags_NavFlattened);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const Place area{at.x, at.y, at.x + room.x, at.y + (mine.whole ? room.y : high * s)};
  const Camera camera = fit(scene.extent, area, mine.whole ? 1.2F * s : s);
  if (!mine.whole) ImGui::Dummy({1, high * s});
  constexpr float kLine = 60;  // pixels
  for (const auto& [key, by] :
       {std::pair{Key::down, kLine}, std::pair{Key::up, -kLine},
        std::pair{Key::page_down, 0.8F * room.y}, std::pair{Key::page_up, -0.8F * room.y}}) {
    if (!state.help && kit::pressed(key)) ImGui::SetScrollY(ImGui::GetScrollY() + by);
  }
  const ImGuiIO& io = ImGui::GetIO();
  const Hit under = hit(scene, camera, io.MousePos.x, io.MousePos.y);
  Emphasis emphasis;
  if (under.what != Hit::What::nothing) emphasis.lit.insert(under.id);
  draw_scene(scene, camera, state.ink, emphasis, *ImGui::GetWindowDrawList());
  ImGui::EndChild();
}

namespace {
std::vector<Message> symbols_in_hand(const State&) {
  return {
      phrase("The symbols that our diagrams are drawn with, each with its name. A contact is "
             "drawn as it stands with the power off.")};
}
}  // namespace

std::span<const Screen> screens_of_symbol_sheet() {
  static const Screen kScreens[] = {{"symbols",
                                     draw_symbol_sheet,
                                     {
                                         {phrase("wheel, arrows"), phrase("move the sheet")},
                                         {Name{"F"}, phrase("the whole sheet")},
                                     },
                                     symbols_in_hand}};
  return kScreens;
}

}  // namespace legwork::gui
