#include "gui/screens/screens.h"

#include <imgui.h>

#include "gui/kit.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

const std::vector<Screen>& screen_table() {
  static const std::vector<Screen> rows = {
      {"day sheet", draw_day_sheet, {}},
      {"on site",
       draw_on_site,
       {
           {"1 … 9, 0", "site.key instrument"},
           {"C", "site.key card"},
           {"B", "keys.turn over"},
           {"F", "keys.fit"},
           {"P", "keys.pad"},
           {"T", "keys.ticket"},
           {"/", "keys.step"},
           {"Ctrl F", "keys.find"},
           {"W", "keys.write up"},
           {"site.ctrl arrows", "keys.pan"},
           {"keys.wheel", "keys.zoom"},
           {"keys.right button", "keys.pan"},
       }},
      {"write-up",
       draw_write_up,
       {{"Tab", "keys.next blank"},
        {"keys.enter", "keys.first offer"},
        {"keys.ctrl enter", "keys.sign off"}}},
      {"debrief",
       draw_debrief,
       {{"keys.ctrl enter", "keys.show pages"},
        {"← →", "keys.pages"},
        {"F", "keys.fit"},
        {"R", "keys.run on"},
        {"S", "keys.account"}}},
      {"lead", draw_lead, {}},
      {"symbols",
       draw_symbol_sheet,
       {
           {"keys.wheel", "keys.zoom"},
           {"keys.right button", "keys.pan"},
           {"F", "keys.fit"},
       }},
  };
  return rows;
}

const std::vector<KeyHelp>& everywhere() {
  static const std::vector<KeyHelp> keys = {{"F1", "keys.this page"},
                                            {"Escape", "keys.go back"},
                                            {"keys.arrows", "keys.go round"},
                                            {"Ctrl +, Ctrl −", "keys.text size"},
                                            {"Ctrl Q", "keys.put away"}};
  return keys;
}

}  // namespace

std::span<const Screen> screens() { return screen_table(); }

const Screen& screen_named(std::string_view name) {
  for (const Screen& screen : screen_table()) {
    if (screen.name == name) return screen;
  }
  return screen_table().front();
}

void draw_keys(State& state, const Screen& screen) {
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float s = state.ink.scale;
  ImGui::SetNextWindowPos({all.x / 2, all.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
  ImGui::Begin("keys", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_AlwaysAutoResize |
                   ImGuiWindowFlags_NoSavedSettings);
  kit::heading(state, say(state, "keys.title"));
  if (ImGui::BeginTable("rows", 2)) {
    const auto row = [&](const KeyHelp& key) {
      ImGui::TableNextRow();
      ImGui::TableNextColumn();
      kit::mono(state, say(state, key.keys));
      ImGui::TableNextColumn();
      kit::words(state, say(state, key.does), kit::Tone::ink, 420 * s);
    };
    ImGui::TableSetupColumn("keys", ImGuiTableColumnFlags_WidthFixed, 220 * s);
    ImGui::TableSetupColumn("does", ImGuiTableColumnFlags_WidthFixed, 430 * s);
    for (const KeyHelp& key : screen.keys) row(key);
    for (const KeyHelp& key : everywhere()) row(key);
    ImGui::EndTable();
  }
  if (kit::choice(state, "close keys", say(state, "common.close"))) state.help = false;
  ImGui::End();
  ImGui::PopStyleVar();
}

}  // namespace legwork::gui
