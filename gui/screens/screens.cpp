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
           {Name{"1 … 9, 0"}, phrase("take an instrument in hand")},
           {Name{"C"}, phrase("unfold the P-T card")},
           {Name{"B"}, phrase("turn the sheet over")},
           {Name{"F"}, phrase("the whole sheet")},
           {Name{"P"}, phrase("fold the pad")},
           {Name{"T"}, phrase("fold the ticket")},
           {Name{"/"}, phrase("write a step")},
           {Name{"Ctrl F"}, phrase("find a part or terminal")},
           {Name{"W"}, phrase("the write-up")},
           {phrase("Ctrl, arrows"), phrase("move the sheet")},
           {phrase("wheel, + −"), phrase("nearer and farther")},
           {phrase("right button"), phrase("move the sheet")},
       }},
      {"write-up",
       draw_write_up,
       {{Name{"Tab"}, phrase("the next blank")},
        {phrase("Enter"), phrase("take the first that is offered")},
        {phrase("Ctrl Enter"), phrase("sign off")}}},
      {"debrief",
       draw_debrief,
       {{phrase("Ctrl Enter"), phrase("turn to the first step")},
        {Name{"← →"}, phrase("turn the pages")},
        {Name{"F"}, phrase("the whole sheet")},
        {Name{"R"}, phrase("let the pages run on")},
        {Name{"S"}, phrase("the account and back")}}},
      {"lead", draw_lead, {}},
      {"symbols",
       draw_symbol_sheet,
       {
           {phrase("wheel, + −"), phrase("nearer and farther")},
           {phrase("right button"), phrase("move the sheet")},
           {Name{"F"}, phrase("the whole sheet")},
       }},
  };
  return rows;
}

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
