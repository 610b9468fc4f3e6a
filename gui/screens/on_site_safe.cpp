// What was made safe, hanging on the machine: the meter proven, handles opened, own locks, parts
// proven dead, with their times. From the trainee's own steps and what still holds of them.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"

namespace legwork::gui::on_site {
namespace {

struct Line {
  double at_minute;
  Message words;
};

bool holds_part(const std::vector<std::string>& list, const std::string& part) {
  return std::find(list.begin(), list.end(), part) != list.end();
}

// Those that still hold, each once, by when it was done last.
std::vector<Line> lines_of(const OnSiteState& mine) {
  const session::InstrumentsView& now = mine.view.instruments;
  std::vector<Line> lines;
  if (now.locked.empty() && now.proven_dead.empty()) return lines;
  std::set<std::string> told;
  for (auto it = mine.view.trail.rbegin(); it != mine.view.trail.rend(); ++it) {
    if (it->kind != session::TrailKind::step) continue;
    const std::string& verb = it->step.verb;
    const std::string part = it->step.arguments.empty() ? "" : it->step.arguments.front();
    Message words;
    if (verb == "prove meter" && now.meter_proven) words = phrase("meter proven on a known source");
    if (verb == "open" && holds_part(now.locked, part))
      words = say("{part} opened", {{"part", Name{part}}});
    if (verb == "lock" && holds_part(now.locked, part))
      words = say("own lock and tag on {part}", {{"part", Name{part}}});
    if (verb == "prove dead" && holds_part(now.proven_dead, part))
      words = say("{part} proven dead", {{"part", Name{part}}});
    if (!words.empty() && told.insert(verb + " " + part).second)
      lines.push_back({it->at_minute, std::move(words)});
  }
  std::reverse(lines.begin(), lines.end());
  return lines;
}

}  // namespace

void draw_safe(State& state) {
  OnSiteState& mine = state.screens->on_site;
  const Place& area = mine.outside_area;
  const float s = state.ink.scale;
  if (area.right - area.left < 200 * s) return;
  const std::vector<Line> lines = lines_of(mine);
  if (lines.empty()) return;
  const float wide = std::min(330 * s, area.right - area.left - 16 * s);
  ImGui::SetNextWindowPos({area.left + 8 * s, area.bottom - 8 * s}, ImGuiCond_Always, {0, 1});
  ImGui::SetNextWindowSize({mine.safe_open ? wide : 0, 0});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.5F);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {12 * s, 8 * s});
  ImGui::PushStyleColor(ImGuiCol_Border, state.ink.theme.packed(Role::ink));
  ImGui::PushStyleColor(ImGuiCol_WindowBg, state.ink.theme.packed(Role::paper));
  ImGui::Begin("safe paper", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoFocusOnAppearing);
  if (kit::choice(state, "made safe", phrase("Made safe"))) mine.safe_open = !mine.safe_open;
  for (const Line& line : lines) {
    if (!mine.safe_open) break;
    kit::small_words(state,
                     say("{time}  {what}",
                         {{"time", Name{clock_text(mine, line.at_minute)}}, {"what", line.words}}),
                     kit::Tone::ink);
  }
  const ImVec2 low = ImGui::GetWindowPos(), size = ImGui::GetWindowSize();
  mine.paper.hung.push_back({low.x, low.y, low.x + size.x, low.y + size.y});
  ImGui::End();
  ImGui::PopStyleColor(2);
  ImGui::PopStyleVar(2);
}

}  // namespace legwork::gui::on_site
