// The log as pages: one a step, with the sheet as it was and the ink list of suspects.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "engine/circuit/circuit.h"
#include "gui/kit.h"
#include "gui/screens/debrief.h"
#include "gui/screens/states.h"

namespace legwork::gui::debrief {
namespace {

// Through every line of the words just written, as a pen would.
void strike(State& state, const std::string& words, bool now) {
  const ImFont* font = state.ink.fonts.small;
  const ImVec2 from = ImGui::GetItemRectMin(), to = ImGui::GetItemRectMax();
  // As they were broken into lines: none of them is longer than what was written.
  const std::string lines = kit::wrapped(font, words, to.x - from.x + 1);
  float y = from.y;
  for (std::size_t at = 0; at < lines.size() && y < to.y; y += font->FontSize) {
    const std::size_t end = std::min(lines.find('\n', at), lines.size());
    const float wide =
        font->CalcTextSizeA(font->FontSize, 1e9F, 0, lines.data() + at, lines.data() + end).x;
    const float middle = std::floor(y + font->FontSize / 2) + 0.5F;
    const ImVec2 stroke[2] = {{from.x - 2, middle}, {from.x + wide + 2, middle}};
    ImGui::GetWindowDrawList()->AddPolyline(
        stroke, 2, state.ink.theme.packed(now ? Role::ink : Role::dim), 0, now ? 2.0F : 1.0F);
    at = end + 1;
  }
}

// Names in ink: those still possible first, then those just struck, then the rest with the number
// of the page that struck them. The ticket's own are only counted.
void ink_list(State& state, const score::Debrief& debrief, const score::Page& page) {
  const float s = state.ink.scale;
  std::vector<std::size_t> open, now, before;
  std::size_t by_ticket = 0;
  for (std::size_t i = 0; i < debrief.suspects.size(); ++i) {
    const score::Standing standing =
        page.standing.size() > i ? page.standing[i] : score::Standing::possible;
    if (standing != score::Standing::struck)
      open.push_back(i);
    else if (std::find(page.struck.begin(), page.struck.end(), static_cast<int>(i)) !=
             page.struck.end())
      now.push_back(i);
    else if (debrief.suspects[i].struck_by == 0)
      ++by_ticket;
    else
      before.push_back(i);
  }
  kit::strong(state, say("Still possible: {n}", {{"n", Number{open.size()}}}));
  kit::small_words(state,
                   say_many("One repair still fits", "{n} repairs still fit", page.repairs_left));
  kit::gap(state, 4);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {8 * s, 3 * s});
  const float margin = 30 * s;
  const float left = ImGui::GetWindowPos().x;
  const auto line = [&](std::size_t i, const std::string& number, kit::Tone tone, bool struck,
                        bool just) {
    const float y = kit::down();
    if (!number.empty()) {
      kit::at(left, y);
      kit::small_words(state, Name{number}, kit::Tone::dim);
    }
    kit::at(left + margin, y);
    kit::small_words(state, debrief.suspects[i].name, tone);
    if (struck) strike(state, spoken(state, debrief.suspects[i].name), just);
    const bool doubtful = page.standing.size() > i && page.standing[i] == score::Standing::doubtful;
    if (doubtful) {
      ImGui::SameLine(0, 4 * s);
      kit::small_words(state, Name{"?"}, kit::Tone::dim);
    }
  };
  for (const std::size_t i : now) line(i, std::to_string(page.number), kit::Tone::ink, true, true);
  if (!now.empty()) kit::gap(state, 4);
  for (const std::size_t i : open) line(i, "", kit::Tone::ink, false, false);
  if (!before.empty()) kit::gap(state, 4);
  for (const std::size_t i : before) {
    line(i, std::to_string(debrief.suspects[i].struck_by), kit::Tone::faint, true, false);
  }
  if (by_ticket > 0) {
    kit::gap(state, 6);
    kit::at(left + margin, kit::down());
    kit::small_words(state, say("and {n} struck by the ticket alone", {{"n", Number{by_ticket}}}));
  }
  ImGui::PopStyleVar();
}

// What the step was, what it showed and what that was worth. Sentences first.
void page_words(State& state, const score::Page& page, float width) {
  const float s = state.ink.scale;
  kit::small_words(state,
                   say("{n} · {minutes} min · {place}", {{"n", Number{page.number}},
                                                         {"minutes", Number{page.at_minute, 1}},
                                                         {"place", Term{page.place}}}));
  kit::words(state, page.words, kit::Tone::ink, width);
  for (const Message& it : page.shown) kit::mono(state, it);
  for (const Message& it : page.said) kit::words(state, kit::quoted(it), kit::Tone::dim, width);
  for (const Message& it : page.happened) kit::small_words(state, it);
  for (const Message& it : page.hazards) kit::caution(state, it, width);
  if (!page.verdict.empty()) {
    const Message word = score::word(page.step_class);
    if (!word.empty()) {
      kit::strong(state, word);
      ImGui::SameLine(0, 10 * s);
      kit::words(state, page.verdict, kit::Tone::pen,
                 width - ImGui::CalcTextSize(spoken(state, word).c_str()).x - 16 * s);
    } else {
      kit::words(state, page.verdict, kit::Tone::pen, width);
    }
  }
}

// How a conductor is marked, as drawn: a short piece of line and what it means, in as many lines as
// there is room for. Returns how high they are; draws nothing without a list.
float legend(const State& state, Place area, ImDrawList* list) {
  const float s = state.ink.scale;
  const std::pair<Trace, Phrase> rows[] = {
      {Trace::leg_1, phrase("leg 1")},       {Trace::leg_2, phrase("leg 2")},
      {Trace::leg_3, phrase("leg 3")},       {Trace::neutral, phrase("neutral")},
      {Trace::floating, phrase("floating")}, {Trace::back_fed, phrase("back-fed")},
      {Trace::dead, phrase("dead")}};
  ImFont* font = state.ink.fonts.small;
  const float line = font->FontSize + 6 * s;
  float x = area.left, y = area.top + line / 2;
  for (const auto& [trace, name] : rows) {
    const std::string words = spoken(state, name);
    const float wide = 42 * s + font->CalcTextSizeA(font->FontSize, 1e9F, 0, words.c_str()).x;
    if (x > area.left && x + wide > area.right) {
      x = area.left;
      y += line;
    }
    if (list != nullptr) {
      Scene piece;
      piece.wires.push_back({.points = {{0, 0}, {34, 0}}, .pen = Pen::control, .trace = trace});
      draw_scene(piece, {.zoom = s, .x = x, .y = y}, state.ink, {}, *list);
      list->AddText(font, font->FontSize,
                    {std::floor(x + 42 * s), std::floor(y - font->FontSize / 2)},
                    state.ink.theme.packed(Role::dim), words.c_str());
    }
    x += wide + 20 * s;
  }
  return y + line / 2 - area.top;
}

// The whole sheet where it can be read so; otherwise near enough, about what this page measured.
void look_at(DebriefState& mine, const score::Page& page, Place sheet) {
  constexpr float kReadable = 0.86F;
  const Camera whole = fit(mine.marked.extent, sheet);
  if (whole.zoom >= kReadable) {
    mine.camera = whole;
    return;
  }
  const auto at = std::find_if(
      mine.marked.terminals.begin(), mine.marked.terminals.end(), [&](const Terminal& terminal) {
        return terminal.home && page.line.find(" " + terminal.id) != std::string::npos;
      });
  const bool near = mine.camera.zoom >= kReadable && mine.camera.x != 0;
  if (at == mine.marked.terminals.end() && near) return;  // nothing new to look at
  const Box& e = mine.marked.extent;
  const auto span = [](float middle, float low, float high, float room) {
    return high - low <= room ? (low + high) / 2
                              : std::clamp(middle, low + room / 2, high - room / 2);
  };
  const bool found = at != mine.marked.terminals.end();
  const float wide = (sheet.right - sheet.left) / kReadable;
  const float high = (sheet.bottom - sheet.top) / kReadable;
  const float x = span(static_cast<float>(found ? at->at.x : e.left), static_cast<float>(e.left),
                       static_cast<float>(e.right), wide);
  const float y = span(static_cast<float>(found ? at->at.y : e.top), static_cast<float>(e.top),
                       static_cast<float>(e.bottom), high);
  mine.camera = {.zoom = kReadable,
                 .x = sheet.middle_x() - x * kReadable,
                 .y = sheet.middle_y() - y * kReadable};
}

}  // namespace

void draw_page(State& state, DebriefState& mine, Place area) {
  const score::Debrief& debrief = *mine.debrief;
  const score::Page& page = debrief.pages[static_cast<std::size_t>(mine.page)];
  const float s = state.ink.scale;
  const float side = std::clamp((area.right - area.left) * 0.27F, 260 * s, 420 * s);
  const float width = area.right - area.left - side - 28 * s;
  const float high = std::min(176 * s, (area.bottom - area.top) * 0.3F);
  kit::at(area.left, area.top);
  ImGui::BeginChild("page words", {width, high}, false, ImGuiWindowFlags_NavFlattened);
  page_words(state, page, std::min(width - 16 * s, 860 * s));
  ImGui::EndChild();
  kit::at(area.right - side, area.top);
  ImGui::BeginChild("ink list", {side, area.bottom - area.top}, false,
                    ImGuiWindowFlags_NavFlattened);
  ink_list(state, debrief, page);
  ImGui::EndChild();
  if (!mine.unit || mine.diagram.terminals.empty()) return;
  const float beside = ImGui::CalcTextSize(spoken(state, phrase("The machine")).c_str()).x + 24 * s;
  Place legends{area.left + beside, 0, area.left + width, area.bottom};
  const float foot = std::max(26.0F, legend(state, legends, nullptr));
  legends.top = area.bottom - foot;
  const Place sheet{area.left, area.top + high + 6 * s, area.left + width, legends.top - 4 * s};
  if (kit::keys_free() && kit::pressed(Key::m)) mine.machine = !mine.machine;
  kit::at(area.left, area.bottom - std::max(26.0F, 22 * s));
  if (kit::choice(state, "machine", mine.machine ? phrase("The sheet") : phrase("The machine")))
    mine.machine = !mine.machine;
  if (mine.machine) {
    debrief::draw_machine(state, mine, sheet);
    return;
  }
  const bool turned = mine.marked_page != mine.page;
  if (turned) {
    mine.marked = marked_sheet(mine.diagram, mine.unit->circuit, debrief, mine.page, speech(state));
    mine.marked_page = mine.page;
  }
  const bool moved = std::abs(mine.fitted_area.right - sheet.right) > 1 ||
                     std::abs(mine.fitted_area.bottom - sheet.bottom) > 1;
  if (kit::keys_free() && !ImGui::GetIO().KeyCtrl && kit::pressed(Key::f)) {
    mine.camera = fit(mine.marked.extent, sheet);
  } else if (turned || moved) {
    mine.fitted_area = sheet;
    look_at(mine, page, sheet);
  }
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.PushClipRect({sheet.left, sheet.top}, {sheet.right, sheet.bottom}, true);
  draw_scene(mine.marked, mine.camera, state.ink, {}, list);
  list.PopClipRect();
  handle_sheet(mine.camera, sheet, "sheet");
  legend(state, legends, &list);
}

}  // namespace legwork::gui::debrief
