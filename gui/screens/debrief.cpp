#include "gui/screens/debrief.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <fstream>

#include "engine/session/door.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/states.h"
#include "gui/sheet/ladder.h"
#include "gui/sheet/svg.h"

namespace legwork::gui {
namespace {

Trace trace_of(score::Follows follows) {
  switch (follows) {
    case score::Follows::leg1:
      return Trace::leg_1;
    case score::Follows::leg2:
      return Trace::leg_2;
    case score::Follows::leg3:
      return Trace::leg_3;
    case score::Follows::neutral:
      return Trace::neutral;
    case score::Follows::floating:
      return Trace::floating;
    case score::Follows::back_fed:
      return Trace::back_fed;
    case score::Follows::dead:
      break;
  }
  return Trace::dead;
}

bool ready(State& state, DebriefState& mine) {
  if (mine.debrief || !mine.why.empty()) return true;
  if (!mine.working.valid()) return true;
  if (mine.working.wait_for(std::chrono::seconds(0)) != std::future_status::ready) {
    state.moving = true;  // look again with the next frame
    return false;
  }
  score::DebriefResult result = mine.working.get();
  mine.debrief = std::move(result.debrief);
  mine.why = std::move(result.why);
  return true;
}

void take_unit(State& state, DebriefState& mine) {
  if (mine.unit || !mine.debrief) return;
  OnSiteState& site = state.screens->on_site;
  if (site.door && site.view.unit && site.view.unit->id == mine.debrief->unit_id) {
    mine.unit = site.view.unit;
  } else {
    session::OpenOptions options;
    options.home = state.home;
    const session::Opening opening = session::Door::reopen(mine.log, options);
    if (opening.door) mine.unit = opening.door->view().unit;
  }
  if (mine.unit) mine.diagram = ladder(*mine.unit);
}

void list_suspects(State& state, const score::Debrief& debrief, const score::Page& page) {
  kit::words(state, fmt::format("{} {}", say(state, "debrief.still possible"), page.suspects_left));
  ImDrawList& list = *ImGui::GetWindowDrawList();
  for (std::size_t i = 0; i < debrief.suspects.size(); ++i) {
    const score::Standing standing =
        page.standing.size() > i ? page.standing[i] : score::Standing::possible;
    const bool struck = standing == score::Standing::struck;
    const bool now =
        std::find(page.struck.begin(), page.struck.end(), static_cast<int>(i)) != page.struck.end();
    if (struck && debrief.suspects[i].struck_by == 0 && page.number > 0)
      continue;  // the ticket's own
    const std::string text =
        struck ? fmt::format("{}  {}", debrief.suspects[i].struck_by, debrief.suspects[i].name)
               : debrief.suspects[i].name;
    kit::small_words(state, text,
                     struck ? (now ? kit::Tone::ink : kit::Tone::faint) : kit::Tone::ink);
    if (struck) {
      const ImVec2 from = ImGui::GetItemRectMin(), to = ImGui::GetItemRectMax();
      const float y = std::floor((from.y + to.y) / 2) + 0.5F;
      const ImVec2 stroke[2] = {{from.x, y}, {to.x, y}};
      list.AddPolyline(stroke, 2, state.ink.theme.packed(now ? Role::ink : Role::dim), 0,
                       now ? 2.0F : 1.0F);
    } else if (standing == score::Standing::doubtful) {
      ImGui::SameLine();
      kit::small_words(state, "?", kit::Tone::dim);
    }
  }
}

void draw_page(State& state, DebriefState& mine, Place area) {
  const score::Debrief& debrief = *mine.debrief;
  const score::Page& page = debrief.pages[static_cast<std::size_t>(mine.page)];
  const float s = state.ink.scale;
  const float side = std::clamp((area.right - area.left) * 0.27F, 260 * s, 420 * s);
  ImGui::SetCursorScreenPos({area.left, area.top});
  ImGui::BeginChild("page words", {area.right - area.left - side - 20 * s, 130 * s}, false);
  kit::words(state, fmt::format("{} · {:.0f} min · {}", page.number, page.at_minute,
                                page.words.empty() ? debrief.said : page.words));
  for (const std::string& it : page.shown) kit::mono(state, it);
  for (const std::string& it : page.said) kit::words(state, it, kit::Tone::dim);
  for (const std::string& it : page.happened) kit::small_words(state, it);
  for (const std::string& it : page.hazards) kit::caution(state, it);
  if (!page.verdict.empty()) kit::words(state, page.verdict, kit::Tone::pen);
  if (!page.better.line.empty()) {
    kit::small_words(state, fmt::format(fmt::runtime(say(state, "debrief.better")),
                                        page.better.words, page.better.leaves));
  }
  ImGui::EndChild();
  ImGui::SetCursorScreenPos({area.right - side, area.top});
  ImGui::BeginChild("ink list", {side, area.bottom - area.top}, false);
  list_suspects(state, debrief, page);
  ImGui::EndChild();
  const Place sheet{area.left, area.top + 136 * s, area.right - side - 20 * s, area.bottom};
  if (mine.diagram.terminals.empty()) return;
  if (mine.marked_page != mine.page) {
    mine.marked = marked_sheet(mine.diagram, mine.unit->circuit, page);
    mine.marked_page = mine.page;
  }
  if (std::abs(mine.fitted_area.right - sheet.right) > 1 ||
      std::abs(mine.fitted_area.bottom - sheet.bottom) > 1) {
    mine.camera = fit(mine.marked.extent, sheet);
    mine.fitted_area = sheet;
  }
  handle_sheet(mine.camera, sheet, "sheet");
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.PushClipRect({sheet.left, sheet.top}, {sheet.right, sheet.bottom}, true);
  draw_scene(mine.marked, mine.camera, state.ink, {}, list);
  list.PopClipRect();
}

// One quantity over the call: a plain line between two rules, ends and extremes written.
void draw_series(State& state, const score::Series& series, float width, float height) {
  const float s = state.ink.scale;
  if (series.value.size() < 2) return;
  const auto [low, high] = std::minmax_element(series.value.begin(), series.value.end());
  kit::small_words(state,
                   fmt::format("{}: {:.0f} … {:.0f} {}", series.name, *low, *high, series.unit));
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float span = std::max(1e-3F, *high - *low), last = std::max(1.0F, series.minute.back());
  std::vector<ImVec2> points;
  points.reserve(series.value.size());
  for (std::size_t i = 0; i < series.value.size(); ++i) {
    points.push_back({at.x + series.minute[i] / last * width,
                      at.y + height - (series.value[i] - *low) / span * height});
  }
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 foot[2] = {{at.x, at.y + height + 2}, {at.x + width, at.y + height + 2}};
  list.AddPolyline(foot, 2, state.ink.theme.packed(Role::rule), 0, 1);
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    list.AddPolyline(&points[i], 2, state.ink.theme.packed(Role::ink), 0, 1.5F);
  }
  ImGui::Dummy({width, height + 8 * s});
}

void draw_account(State& state, const score::Debrief& debrief, Place area) {
  const float s = state.ink.scale;
  const float column = (area.right - area.left - 40 * s) / 2;
  ImGui::SetCursorScreenPos({area.left, area.top});
  ImGui::BeginChild("account", {column, area.bottom - area.top}, false);
  kit::words(state, debrief.truth);
  ImGui::Dummy({0, 6 * s});
  kit::words(state, score::account_text(debrief));
  ImGui::EndChild();
  ImGui::SetCursorScreenPos({area.left + column + 40 * s, area.top});
  ImGui::BeginChild("changes", {column, area.bottom - area.top}, false);
  for (const score::Change& it : debrief.changes) kit::words(state, it.sentence);
  if (!debrief.goal.empty()) kit::words(state, debrief.goal, kit::Tone::pen);
  if (!debrief.route.empty()) {
    ImGui::Dummy({0, 6 * s});
    kit::words(state,
               fmt::format("{} ({:.0f} min)", say(state, "debrief.route"), debrief.route_minutes));
    for (const score::RouteStep& it : debrief.route) {
      kit::small_words(state,
                       fmt::format("{:>3.0f} min  {}  {}", it.at_minute, it.words, it.shown));
    }
  }
  ImGui::Dummy({0, 6 * s});
  for (const score::Series& it : debrief.series) draw_series(state, it, column - 20 * s, 60 * s);
  ImGui::EndChild();
}

void save_html(State& state, DebriefState& mine) {
  std::vector<std::string> scenes;
  for (const score::Page& page : mine.debrief->pages) {
    if (!mine.unit) break;
    scenes.push_back(as_svg(marked_sheet(mine.diagram, mine.unit->circuit, page), page.words));
  }
  const std::string path = mine.log + ".html";
  std::ofstream file(path, std::ios::binary);
  file << score::as_html(*mine.debrief, scenes);
  mine.saved = file ? path : say(state, "debrief.not saved");
}

void draw_asking(State& state, DebriefState& mine, float margin) {
  const float s = state.ink.scale;
  kit::words(state, mine.debrief->ask_first, kit::Tone::ink, 720 * s);
  ImGui::SetCursorScreenPos({margin, ImGui::GetCursorScreenPos().y + 8 * s});
  const bool entered = kit::field(state, "own answer", mine.own_answer, 560 * s, "");
  ImGui::SetCursorScreenPos({margin, ImGui::GetCursorScreenPos().y + 8 * s});
  if (kit::choice(state, "show pages", say(state, "debrief.show pages")) || entered)
    mine.asked = true;
}

}  // namespace

Scene marked_sheet(const Scene& sheet, const circuit::Circuit& circuit, const score::Page& page) {
  Scene marked = sheet;
  for (Wire& wire : marked.wires) {
    if (wire.id.empty()) continue;
    circuit::TerminalId at = circuit.find_terminal(wire.id);
    if (!at.valid()) {
      const circuit::WireId id = circuit.find_wire(wire.id);
      if (id.valid()) at = circuit.wires[id.slot()].from;
    }
    if (at.valid() && at.slot() < page.terminals.size())
      wire.trace = trace_of(page.terminals[at.slot()]);
  }
  return marked;
}

void open_debrief(State& state, const std::string& log_path) {
  DebriefState& mine = state.screens->debrief;
  mine = DebriefState{};
  mine.log = log_path;
  score::DebriefOptions options;
  options.home = state.home;
  mine.working = std::async(std::launch::async,
                            [log_path, options] { return score::debrief_file(log_path, options); });
  state.screen = "debrief";
}

void draw_debrief(State& state) {
  DebriefState& mine = state.screens->debrief;
  if (mine.log.empty()) {
    OnSiteState& site = state.screens->on_site;
    if (!site.door) {
      state.screen = "day sheet";
      return;
    }
    open_debrief(state, site.door->log_path());
  }
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float margin = 24 * s;
  ImGui::SetCursorScreenPos({margin, 16 * s});
  if (!ready(state, mine)) {
    kit::heading(state, say(state, "debrief.working"));
    return;
  }
  const bool escape = !state.help && kit::keys_free() && kit::pressed(Key::escape);
  if (kit::choice(state, "back to day sheet", say(state, "debrief.day sheet")) || escape) {
    state.screen = "day sheet";
    return;
  }
  if (!mine.debrief) {
    kit::caution(state, mine.why);
    return;
  }
  take_unit(state, mine);
  if (!mine.asked) {
    ImGui::SetCursorScreenPos({margin, 80 * s});
    draw_asking(state, mine, margin);
    return;
  }
  const int last = static_cast<int>(mine.debrief->pages.size()) - 1;
  ImGui::SameLine(0, 24 * s);
  if (kit::pick(state, "pages", say(state, "debrief.pages"), !mine.account)) mine.account = false;
  ImGui::SameLine(0, 24 * s);
  if (kit::pick(state, "account page", say(state, "debrief.account"), mine.account))
    mine.account = true;
  ImGui::SameLine(0, 24 * s);
  if (kit::choice(state, "save html", say(state, "debrief.save"))) save_html(state, mine);
  ImGui::SameLine(0, 24 * s);
  if (!mine.account) {
    if (kit::choice(state, "page back", "←")) --mine.page;
    ImGui::SameLine(0, 8 * s);
    kit::mono(state, fmt::format("{} / {}", mine.page, last));
    ImGui::SameLine(0, 8 * s);
    if (kit::choice(state, "page on", "→")) ++mine.page;
  }
  if (!mine.saved.empty()) {
    ImGui::SameLine(0, 16 * s);
    kit::small_words(state, mine.saved);
  }
  if (!state.help && kit::keys_free()) {
    if (kit::pressed(Key::left) || kit::pressed(Key::page_up)) --mine.page;
    if (kit::pressed(Key::right) || kit::pressed(Key::page_down)) ++mine.page;
    if (kit::pressed(Key::home)) mine.page = 0;
    if (kit::pressed(Key::end)) mine.page = last;
  }
  mine.page = std::clamp(mine.page, 0, std::max(0, last));
  const Place area{margin, 58 * s, all.x - margin, all.y - 16 * s};
  if (mine.account || last < 0)
    draw_account(state, *mine.debrief, area);
  else
    draw_page(state, mine, area);
}

}  // namespace legwork::gui
