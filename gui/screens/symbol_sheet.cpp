#include "gui/screens/symbol_sheet.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "gui/kit.h"
#include "gui/screens/screens.h"
#include "gui/screens/states.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {

Scene symbol_scene(const Speech& speech) {
  constexpr int kColumns = 6, kColumn = 310, kRow = 130;
  Scene scene{.name = "symbols"};
  int n = 0;
  for (const SymbolKind& kind : symbol_kinds()) {
    const Point at{n % kColumns * kColumn, n / kColumns * kRow};
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
       .at = {kColumns * kColumn / 2 - kColumn / 2, -70},
       .face = Face::words,
       .size = 15});
  scene.extent = extent_of(scene, 30);
  return scene;
}

void draw_symbol_sheet(State& state) {
  SymbolSheetState& mine = state.screens->symbol_sheet;
  if (mine.language != state.settings.language) {
    mine.language = state.settings.language;
    mine.scene = symbol_scene(speech(state));
  }
  const Scene& scene = mine.scene;
  kit::heading(state, phrase("The symbols on our sheets"));
  if (!state.help && kit::pressed(Key::escape)) go_back(state);
  const ImVec2 from = ImGui::GetCursorScreenPos(), room = ImGui::GetContentRegionAvail();
  const Place area{from.x, from.y, from.x + room.x, from.y + room.y};
  const bool again = kit::pressed(Key::f) && !ImGui::GetIO().KeyCtrl;
  if (!mine.fitted || again) mine.camera = fit(scene.extent, area);
  // Opened near enough to read the names; F shows all of it.
  if (const float near = 0.8F * state.ink.scale;
      !mine.fitted && !again && mine.camera.zoom < near) {
    Box across = scene.extent;
    across.bottom = across.top + 1;
    mine.camera = fit(across, area, near);
    mine.camera.y = std::floor(area.top - mine.camera.zoom * static_cast<float>(across.top));
  }
  mine.fitted = true;
  handle_sheet(mine.camera, area, "sheet");
  const ImGuiIO& io = ImGui::GetIO();
  const Hit under = hit(scene, mine.camera, io.MousePos.x, io.MousePos.y);
  Emphasis emphasis;
  if (under.what != Hit::What::nothing) emphasis.lit.insert(under.id);
  draw_scene(scene, mine.camera, state.ink, emphasis, *ImGui::GetWindowDrawList());
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
                                         {phrase("wheel, + −"), phrase("nearer and farther")},
                                         {phrase("right button"), phrase("move the sheet")},
                                         {Name{"F"}, phrase("the whole sheet")},
                                     },
                                     symbols_in_hand}};
  return kScreens;
}

}  // namespace legwork::gui
