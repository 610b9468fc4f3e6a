#include "gui/screens/screens.h"

#include <imgui.h>

#include "gui/kit.h"

namespace legwork::gui {

std::vector<const Screen*> listed_screens();  // written by the build, of the files in this folder

namespace {

const std::vector<KeyHelp>& everywhere() {
  static const std::vector<KeyHelp> keys = {
      {Name{"F1"}, phrase("this page")},
      {Name{"Escape"}, phrase("close, go back")},
      {phrase("Tab, arrows, Enter"), phrase("go to a choice and choose it")},
      {Name{"Ctrl +, Ctrl −"}, phrase("larger and smaller text")},
      {Name{"Ctrl Q"}, phrase("put the work away")}};
  return keys;
}

}  // namespace

std::span<const Screen* const> screens() {
  static const std::vector<const Screen*> all = listed_screens();
  return all;
}

const Screen& screen_named(std::string_view name) {
  for (const Screen* screen : screens()) {
    if (screen->name == name) return *screen;
  }
  return name == kFirstScreen ? *screens().front() : screen_named(kFirstScreen);
}

void draw_keys(State& state, const Screen& screen) {
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float s = state.ink.scale;
  ImGui::SetNextWindowPos({all.x / 2, all.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
  ImGui::Begin("keys", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_AlwaysAutoResize |
                   ImGuiWindowFlags_NoSavedSettings);
  kit::heading(state, phrase("Keys"));
  if (ImGui::BeginTable("rows", 2)) {
    const auto row = [&](const KeyHelp& key) {
      ImGui::TableNextRow();
      ImGui::TableNextColumn();
      kit::mono(state, key.keys);
      ImGui::TableNextColumn();
      kit::words(state, key.does, kit::Tone::ink, 420 * s);
    };
    ImGui::TableSetupColumn("keys", ImGuiTableColumnFlags_WidthFixed, 220 * s);
    ImGui::TableSetupColumn("does", ImGuiTableColumnFlags_WidthFixed, 430 * s);
    for (const KeyHelp& key : screen.keys) row(key);
    for (const KeyHelp& key : everywhere()) row(key);
    ImGui::EndTable();
  }
  if (kit::choice(state, "close keys", phrase("Close"))) state.help = false;
  ImGui::End();
  ImGui::PopStyleVar();
}

}  // namespace legwork::gui
