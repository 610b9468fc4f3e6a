#include "gui/screens/day_sheet.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "gui/kit.h"
#include "gui/screens/debrief.h"
#include "gui/screens/on_site.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

std::string clock(int minute) { return fmt::format("{:02}:{:02}", minute / 60 % 24, minute % 60); }

// The first words of the complaint, cut at a word.
std::string first_words(const std::string& said, std::size_t most) {
  if (said.size() <= most) return said;
  std::size_t end = said.rfind(' ', most);
  if (end == std::string::npos) end = most;
  return said.substr(0, end) + " …";
}

void draw_call(State& state, const session::TicketLine& line, float left, float width) {
  const float s = state.ink.scale;
  const float y = ImGui::GetCursorScreenPos().y;
  ImGui::SetCursorScreenPos({left, y});
  if (!line.broken.empty()) {
    kit::mono(state, line.path);
    kit::caution(state, line.broken, width);
    return;
  }
  kit::mono(state, clock(line.ticket.starts_at_minute), kit::Tone::dim);
  ImGui::SetCursorScreenPos({left + 80 * s, y - 3 * s});
  const std::string text = fmt::format("{}, {}", line.ticket.title, line.unit_name);
  if (kit::choice(state, "open " + line.id, text))
    open_ticket(state, line.path, line.unfinished_log);
  if (!line.finished_logs.empty()) {
    ImGui::SameLine(0, 20 * s);
    kit::small_words(state, fmt::format("✓ {:.0f} min", line.finished_minutes));
  }
  if (!line.unfinished_log.empty()) {
    ImGui::SameLine(0, 20 * s);
    kit::small_words(state, say(state, "day sheet.begun"), kit::Tone::pen);
  }
  ImGui::SetCursorScreenPos({left + 80 * s, ImGui::GetCursorScreenPos().y});
  kit::words(state, "“" + first_words(line.ticket.said, 110) + "”", kit::Tone::dim, width - 90 * s);
  ImGui::SetCursorScreenPos({left + 80 * s, ImGui::GetCursorScreenPos().y});
  kit::small_words(state, fmt::format("{} · {}", line.ticket.difficulty, line.ticket.teaches));
  ImGui::Dummy({0, 4 * s});
  ImGui::SetCursorScreenPos({left, ImGui::GetCursorScreenPos().y});
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const ImVec2 rule[2] = {{at.x, std::floor(at.y) + 0.5F}, {at.x + width, std::floor(at.y) + 0.5F}};
  ImGui::GetWindowDrawList()->AddPolyline(rule, 2, state.ink.theme.packed(Role::rule), 0, 1);
  ImGui::Dummy({0, 6 * s});
}

void draw_settings(State& state) {
  const float s = state.ink.scale;
  Settings& settings = state.settings;
  const auto row = [&](const char* key) {
    kit::small_words(state, say(state, key));
    ImGui::SameLine(110 * s);
  };
  row("settings.paper");
  for (const Theme& theme : state.themes) {
    if (kit::pick(state, "theme " + theme.name, say(state, "settings." + theme.name),
                  settings.theme == theme.name))
      settings.theme = theme.name;
    ImGui::SameLine(0, 14 * s);
  }
  ImGui::NewLine();
  row("settings.language");
  if (kit::pick(state, "english", "English", settings.language == "en")) settings.language = "en";
  ImGui::SameLine(0, 14 * s);
  if (kit::pick(state, "spanish", "Español", settings.language == "es")) settings.language = "es";
  row("settings.units");
  if (kit::pick(state, "fahrenheit", "°F, psig", !settings.celsius))
    settings.celsius = settings.bar = false;
  ImGui::SameLine(0, 14 * s);
  if (kit::pick(state, "celsius", "°C, bar", settings.celsius))
    settings.celsius = settings.bar = true;
  row("settings.sound");
  if (kit::pick(state, "sound on", say(state, "settings.on"), settings.sound))
    settings.sound = true;
  ImGui::SameLine(0, 14 * s);
  if (kit::pick(state, "sound off", say(state, "settings.off"), !settings.sound))
    settings.sound = false;
}

void draw_past(State& state, const DaySheetState& mine) {
  kit::words(state, say(state, "day sheet.past"));
  if (mine.past.empty()) kit::small_words(state, say(state, "day sheet.none yet"));
  std::size_t shown = 0;
  for (const session::PastShift& shift : mine.past) {
    if (++shown > 12) break;
    if (!shift.broken.empty()) {
      kit::small_words(state, shift.broken, kit::Tone::dim);
      continue;
    }
    const std::string text = fmt::format("{} · {:.0f} min", shift.site, shift.minutes);
    if (kit::choice(state, "past " + shift.path, text)) {
      if (shift.closed)
        open_debrief(state, shift.path);
      else
        open_ticket(state, shift.scenario_id, shift.path);
    }
  }
}

}  // namespace

void draw_day_sheet(State& state) {
  DaySheetState& mine = state.screens->day_sheet;
  if (!mine.read) {
    mine.read = true;
    session::OpenOptions options;
    options.home = state.home;
    mine.tickets = session::tickets(options);
    mine.past = session::past_shifts(options);
    std::stable_sort(mine.tickets.begin(), mine.tickets.end(), [](const auto& a, const auto& b) {
      return a.ticket.starts_at_minute < b.ticket.starts_at_minute;
    });
  }
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float margin = std::max(28 * s, all.x * 0.05F);
  const float side = 330 * s;
  const float width = all.x - 2 * margin - side - 40 * s;
  ImGui::SetCursorScreenPos({margin, 24 * s});
  kit::heading(state, say(state, "day sheet.title"));
  const float top = ImGui::GetCursorScreenPos().y + 10 * s;
  ImGui::SetCursorScreenPos({margin, top});
  ImGui::BeginChild("calls", {width, all.y - top - 70 * s}, false);
  for (const session::TicketLine& line : mine.tickets) {
    draw_call(state, line, ImGui::GetWindowPos().x + 2 * s, width - 20 * s);
    if (state.screen != "day sheet") break;
  }
  ImGui::EndChild();
  ImGui::SetCursorScreenPos({margin + width + 40 * s, top});
  ImGui::BeginChild("side", {side, all.y - top - 70 * s}, false);
  if (kit::choice(state, "out of the hat", say(state, "day sheet.hat")) && !mine.tickets.empty()) {
    // The next one not yet done, then round again: no dice needed for a handful of calls.
    const auto fresh = std::find_if(mine.tickets.begin(), mine.tickets.end(), [](const auto& t) {
      return t.broken.empty() && t.finished_logs.empty();
    });
    open_ticket(state, fresh == mine.tickets.end() ? mine.tickets.front().path : fresh->path);
  }
  if (kit::choice(state, "lead", say(state, "day sheet.lead"))) state.screen = "lead";
  if (kit::choice(state, "symbols", say(state, "day sheet.symbols"))) state.screen = "symbols";
  ImGui::Dummy({0, 10 * s});
  draw_past(state, mine);
  ImGui::Dummy({0, 10 * s});
  draw_settings(state);
  ImGui::EndChild();
  if (state.screen != "day sheet") mine.read = false;
  ImGui::SetCursorScreenPos({margin, all.y - 62 * s});
  kit::caution(state, say(state, "cautions.trainer only"), all.x - 2 * margin);
  if (!state.notice.empty()) {
    ImGui::SetCursorScreenPos({margin, all.y - 26 * s});
    kit::small_words(state, state.notice, kit::Tone::pen);
  }
}

}  // namespace legwork::gui
