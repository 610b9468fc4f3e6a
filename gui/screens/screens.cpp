#include "gui/screens/screens.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "gui/kit.h"
#include "gui/screens/settings_line.h"
#include "gui/screens/states.h"

namespace legwork::gui {

std::vector<const Screen*> listed_screens();  // written by the build, of the files in this folder

namespace {

const std::vector<KeyHelp>& everywhere() {
  static const std::vector<KeyHelp> keys = {
      {Name{"F1"}, phrase("this page")},
      {Name{"F2"}, phrase_in("a key", "back")},
      {Name{"F3"}, phrase("home: the day sheet. An open call goes on from there")},
      {Name{"Escape"}, phrase("close what lies on top")},
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

namespace {

// As many columns as there is room for.
void draw_key_rows(State& state, const Screen& screen, float wide) {
  const float s = state.ink.scale;
  std::vector<const KeyHelp*> rows;
  for (const KeyHelp& key : screen.keys) rows.push_back(&key);
  for (const KeyHelp& key : everywhere()) rows.push_back(&key);
  const int columns = wide >= 700 * s && rows.size() > 8 ? 2 : 1;
  const float keys = 150 * s, column = wide / static_cast<float>(columns);
  if (!ImGui::BeginTable("rows", 2 * columns)) return;
  for (int k = 0; k < columns; ++k) {
    ImGui::TableSetupColumn("keys", ImGuiTableColumnFlags_WidthFixed, keys);
    ImGui::TableSetupColumn("does", ImGuiTableColumnFlags_WidthFixed, column - keys - 30 * s);
  }
  const std::size_t high =
      (rows.size() + static_cast<std::size_t>(columns) - 1) / static_cast<std::size_t>(columns);
  for (std::size_t i = 0; i < high; ++i) {
    ImGui::TableNextRow();
    for (int k = 0; k < columns; ++k) {
      const std::size_t at = i + high * static_cast<std::size_t>(k);
      ImGui::TableNextColumn();
      if (at < rows.size()) kit::mono(state, rows[at]->keys);
      ImGui::TableNextColumn();
      if (at < rows.size())
        kit::words(state, rows[at]->does, kit::Tone::ink, column - keys - 34 * s);
    }
  }
  ImGui::EndTable();
}

struct CornerWord {
  const char* name;
  Phrase words;
  void (*act)(State& state);
};
constexpr CornerWord kCorner[] = {
    {"home", phrase("Home"), go_home},
    {"help", phrase("Help"), [](State& state) { state.help = !state.help; }},
    {"back", phrase("Back"), go_back},
};
constexpr float kCornerGap = 18, kCornerMargin = 20;

}  // namespace

void draw_help(State& state, const Screen& screen) {
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float s = state.ink.scale;
  const float wide = std::min(all.x - 40, 940 * s), inside = wide - 64 * s;
  ImGui::SetNextWindowPos({all.x / 2, all.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
  ImGui::SetNextWindowSizeConstraints({wide, 0}, {wide, all.y - 20});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
  ImGui::Begin("keys", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoCollapse | ImGuiWindowFlags_AlwaysAutoResize |
                   ImGuiWindowFlags_NoSavedSettings);
  kit::heading(state, phrase("In hand"));
  ImGui::SameLine(inside - ImGui::CalcTextSize(spoken(state, phrase("Close")).c_str()).x);
  if (kit::choice(state, "close keys", phrase("Close"))) state.help = false;
  if (screen.in_hand != nullptr) {
    for (const Message& line : screen.in_hand(state))
      kit::words(state, line, kit::Tone::ink, inside);
  }
  kit::gap(state, 4);
  kit::rule(state, inside);
  kit::strong(state, phrase("Keys"));
  draw_key_rows(state, screen, inside);
  kit::rule(state, inside);
  kit::strong(state, phrase("Settings"));
  draw_settings(state, inside);
  ImGui::End();
  ImGui::PopStyleVar();
}

float corner_left(const State& state) {
  const float s = state.ink.scale;
  float wide = kCornerMargin * s;
  ImFont* font = state.ink.fonts.body;
  for (const CornerWord& word : kCorner) {
    wide += font->CalcTextSizeA(font->FontSize, 1e9F, 0, spoken(state, word.words).c_str()).x +
            kCornerGap * s;
  }
  return ImGui::GetIO().DisplaySize.x - wide;
}

void draw_corner(State& state) {
  const float s = state.ink.scale;
  float x = corner_left(state) + kCornerGap * s;
  void (*chosen)(State&) = nullptr;
  for (const CornerWord& word : kCorner) {
    const bool nowhere = word.act == go_back && state.been.empty() && state.screen == kFirstScreen;
    kit::at(std::floor(x), std::floor(9 * s));
    if (kit::choice(state, word.name, word.words,
                    nowhere ? Message(phrase("Nothing lies behind this page.")) : Message()))
      chosen = word.act;
    x += ImGui::CalcTextSize(spoken(state, word.words).c_str()).x + kCornerGap * s;
  }
  if (chosen != nullptr) chosen(state);
}

void go_home(State& state) {
  state.help = false;
  state.screen = kFirstScreen;
}

void go_back(State& state) {
  state.help = false;
  state.screen = state.been.empty() ? std::string(kFirstScreen) : state.been.back();
}

void leave_screen(State& state, const std::string& before) {
  if (before == "write-up") leave_write_up(state);
  if (before == "day sheet") leave_day_sheet(state);
  if (before == "lead" && state.screen == "day sheet") leave_lead(state);
  if (state.screen == before) return;
  const OnSiteState& site = state.screens->on_site;
  const bool open_call =
      site.door && !site.view.closed && (before == "on site" || before == "write-up");
  const bool back = !state.been.empty() && state.been.back() == state.screen;
  if (back) {
    state.been.pop_back();
  } else {
    state.been.push_back(before);
  }
  // From the day sheet, back to a call that is open; from a debrief, to the day sheet.
  if (state.screen == kFirstScreen) {
    state.been.clear();
    if (open_call) state.been = {"on site"};
  } else if (state.screen == "debrief" || (back && before == kFirstScreen)) {
    state.been = {std::string(kFirstScreen)};
  }
}

}  // namespace legwork::gui
