#include "gui/screens/lead.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <chrono>

#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

void work_out(State& state, LeadState& mine, const session::TicketLine& line) {
  mine.chosen = line.path;
  mine.has_page = false;
  score::DebriefOptions options;
  options.home = state.home;
  mine.working = std::async(
      std::launch::async, [path = line.path, options] { return score::lead_page(path, options); });
}

void draw_list(State& state, LeadState& mine) {
  for (const session::TicketLine& line : mine.tickets) {
    const std::string text =
        line.broken.empty() ? fmt::format("{}  {}, {}", line.id, line.ticket.site, line.unit_id)
                            : line.path;
    if (kit::pick(state, "scenario " + line.path, text, mine.chosen == line.path) &&
        line.broken.empty()) {
      work_out(state, mine, line);
    }
    if (!line.broken.empty()) kit::caution(state, line.broken);
  }
}

void draw_answer(State& state, LeadState& mine) {
  const score::LeadPage& page = mine.page;
  if (!page.why.empty()) {
    kit::caution(state, page.why);
    return;
  }
  const auto row = [&](const char* key, const std::string& text) {
    if (text.empty()) return;
    kit::small_words(state, say(state, key));
    kit::words(state, text);
  };
  row("lead.said", "“" + page.said + "”");
  row("lead.stopped by", page.stopped_by);
  row("lead.part", page.part);
  row("lead.root", page.root);
  row("lead.repair", page.repair);
  kit::words(state, page.story);
  for (const std::string& finding : page.findings) kit::caution(state, finding);
  kit::words(state,
             fmt::format("{} ({:.0f} min)", say(state, "debrief.route"), page.route_minutes));
  for (const score::RouteStep& it : page.route) {
    kit::small_words(state, fmt::format("{:>3.0f} min  {}  {}", it.at_minute, it.words, it.shown));
  }
  if (page.readings.empty()) return;
  kit::words(state, say(state, "lead.expected"));
  if (ImGui::BeginTable("readings", 3)) {
    for (const score::ExpectedReading& it : page.readings) {
      ImGui::TableNextRow();
      ImGui::TableNextColumn();
      kit::mono(state, it.line);
      ImGui::TableNextColumn();
      kit::mono(state, it.healthy, kit::Tone::dim);
      ImGui::TableNextColumn();
      kit::mono(state, it.here);
    }
    ImGui::EndTable();
  }
}

}  // namespace

void draw_lead(State& state) {
  LeadState& mine = state.screens->lead;
  if (!mine.read) {
    mine.read = true;
    session::OpenOptions options;
    options.home = state.home;
    mine.tickets = session::tickets(options);
  }
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float margin = std::max(28 * s, all.x * 0.04F);
  ImGui::SetCursorScreenPos({margin, 16 * s});
  if (kit::choice(state, "back to day sheet", say(state, "debrief.day sheet")) ||
      (!state.help && kit::keys_free() && kit::pressed(Key::escape))) {
    mine.read = false;
    state.screen = "day sheet";
    return;
  }
  ImGui::SetCursorScreenPos({margin, 52 * s});
  kit::heading(state, say(state, "lead.title"));
  const float top = ImGui::GetCursorScreenPos().y + 10 * s;
  ImGui::SetCursorScreenPos({margin, top});
  ImGui::BeginChild("list", {300 * s, all.y - top - 20 * s}, false);
  draw_list(state, mine);
  ImGui::EndChild();
  ImGui::SetCursorScreenPos({margin + 330 * s, top});
  ImGui::BeginChild("answer", {all.x - 2 * margin - 330 * s, all.y - top - 20 * s}, false);
  if (mine.working.valid()) {
    if (mine.working.wait_for(std::chrono::seconds(0)) == std::future_status::ready) {
      mine.page = mine.working.get();
      mine.has_page = true;
    } else {
      state.moving = true;
      kit::words(state, say(state, "lead.working"));
    }
  }
  if (mine.has_page) {
    if (kit::choice(state, "try it", say(state, "lead.try"))) open_ticket(state, mine.chosen);
    draw_answer(state, mine);
  } else if (!mine.working.valid()) {
    kit::words(state, say(state, "lead.choose"), kit::Tone::dim);
  }
  ImGui::EndChild();
}

}  // namespace legwork::gui
