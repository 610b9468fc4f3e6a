// What lies over the windows when it is asked for: the list of all steps, the pad with every tag,
// and, unasked, what went wrong.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"
#include "gui/sheet/outside.h"

namespace legwork::gui::on_site {
namespace {

using session::Group;

struct GroupWords {
  Group group;
  const char* name;  // by which tests find it
  Phrase words;
};
constexpr GroupWords kGroups[] = {
    {Group::look, "on site.look", phrase("Look and listen")},
    {Group::ask, "on site.ask", phrase("Ask the site")},
    {Group::safety, "on site.safety", phrase("Make it safe")},
    {Group::instruments, "on site.instruments", phrase("Instruments")},
    {Group::hands, "on site.hands", phrase("By hand")},
    {Group::settings, "on site.settings", phrase("Settings")},
    {Group::repair, "on site.repair", phrase("Repair")},
    {Group::refrigerant, "on site.refrigerant", phrase("Refrigerant")},
    {Group::wait, "on site.wait", phrase("Let it run")},
    {Group::write, "on site.write", phrase("Write down")},
};

void begin_paper(State& state, const char* name, Place at) {
  ImGui::SetNextWindowPos({at.left, at.top});
  ImGui::SetNextWindowSize({at.right - at.left, at.bottom - at.top});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.5F);
  ImGui::PushStyleColor(ImGuiCol_Border, state.ink.theme.packed(Role::ink));
  ImGui::PushStyleColor(ImGuiCol_WindowBg, state.ink.theme.packed(Role::paper));
  ImGui::Begin(name, nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings);
}

void end_paper() {
  ImGui::End();
  ImGui::PopStyleColor(2);
  ImGui::PopStyleVar();
}

}  // namespace

void draw_steps(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  if (!mine.steps_open) return;
  const float s = state.ink.scale;
  const Place at{area.left, area.top, area.left + std::min(460 * s, area.right - area.left),
                 area.bottom};
  begin_paper(state, "steps", at);
  state.places["here"] = {at.left + 8 * s, at.top + 8 * s, at.right - 8 * s, at.bottom - 8 * s};
  std::string step;
  if (kit::choice(state, "close steps", phrase("Close"))) mine.steps_open = false;
  for (const session::PlaceView& place : mine.view.places) {
    if (place.here) kit::words(state, place.name, kit::Tone::dim, at.right - at.left - 40 * s);
  }
  for (const GroupWords& group : kGroups) {
    const bool any =
        std::any_of(mine.view.actions.begin(), mine.view.actions.end(),
                    [&](const auto& a) { return a.group == group.group && !a.open_ended; });
    if (!any) continue;
    const bool open = mine.group == group.name;
    if (kit::pick(state, std::string("group ") + group.name, group.words, open))
      mine.group = open ? "" : group.name;
    if (!open) continue;
    ImGui::Indent(12 * s);
    const auto with_lamp = [](const session::Action& action) {
      return action.step.arguments.size() > 1 && action.step.arguments[1] == "with lamp";
    };
    const bool lamp = mine.lamp && group.group == session::Group::look &&
                      std::any_of(mine.view.actions.begin(), mine.view.actions.end(), with_lamp);
    for (const session::Action& action : mine.view.actions) {
      if (action.group != group.group || action.open_ended) continue;
      if (lamp && !with_lamp(action)) continue;
      if (kit::choice(state, "do " + action.line,
                      say("{label} · {time}",
                          {{"label", action.label}, {"time", Name{minutes_text(action.minutes)}}}),
                      action.allowed ? Message() : action.why_not)) {
        step = action.line;
      }
      if (!action.allowed) kit::small_words(state, action.why_not);
    }
    ImGui::Unindent(12 * s);
  }
  end_paper();
  if (!step.empty()) ask_step(state, step);
}

void draw_pad(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  if (!mine.pad_open) return;
  const float s = state.ink.scale;
  const Place at{area.right - std::min(360 * s, area.right - area.left), area.top, area.right,
                 area.bottom};
  begin_paper(state, "pad paper", at);
  if (kit::pick(state, "pad readings", phrase("Readings"), !mine.pad_trail)) mine.pad_trail = false;
  ImGui::SameLine(0, 18 * s);
  if (kit::pick(state, "pad trail", phrase("Everything so far"), mine.pad_trail))
    mine.pad_trail = true;
  if (kit::choice(state, "close pad", phrase("Close"))) mine.pad_open = false;
  // Every step and happening, the latest first, as the line at the top has them.
  for (auto entry = mine.view.trail.rbegin(); mine.pad_trail && entry != mine.view.trail.rend();
       ++entry) {
    kit::gap(state, 2);
    kit::small_words(state, Name{clock_text(mine, entry->at_minute)});
    kit::words(state, entry->text,
               entry->kind == session::TrailKind::hazard ? kit::Tone::pen : kit::Tone::ink);
  }
  for (auto tag = mine.view.tags.rbegin(); !mine.pad_trail && tag != mine.view.tags.rend(); ++tag) {
    std::string where;
    for (const std::string& place : tag->at) where += (where.empty() ? "" : " – ") + place;
    kit::gap(state, 2);
    kit::words(state, Name{fmt::format("{}  {}", tag->number, spoken(state, tag->shown))},
               kit::Tone::ink);
    kit::small_words(state, Name{fmt::format("{} {} · {}", tag->function, where,
                                             clock_text(mine, tag->at_minute))});
    if (!tag->stale.empty()) kit::small_words(state, tag->stale);
    if (!tag->remark.empty())
      kit::small_words(state, kit::quoted(Name{tag->remark}), kit::Tone::pen);
    if (mine.remark_on == tag->number) {
      if (kit::field(state, "remark", mine.remark, ImGui::GetContentRegionAvail().x,
                     phrase("remark"))) {
        const std::string line = fmt::format("remark {} {}", tag->number, mine.remark);
        mine.remark_on = -1;
        mine.remark.clear();
        give_step(state, line);
        break;
      }
    } else if (kit::choice(state, fmt::format("remark on {}", tag->number), phrase("remark"))) {
      mine.remark_on = tag->number;
      mine.remark.clear();
    }
  }
  end_paper();
}

void draw_look(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  if (mine.look_at.empty() || !mine.slip.empty()) return;
  const float s = state.ink.scale, gap = 10 * s;
  Place thing{};
  for (const Sheet& sheet : open_sheets(mine)) {
    for (const Target& target : sheet.scene->targets) {
      const Place at = place_on(sheet, target.box);
      if (target.id == mine.look_at && holds(sheet.area, at.middle_x(), at.middle_y())) thing = at;
    }
    if (thing.right > thing.left) break;
  }
  if (thing.right <= thing.left) return;
  const Scene lamp =
      mine.look_with_lamp ? lamp_through_fins(*mine.view.unit, mine.sights) : Scene{};
  const float wide = (lamp.shapes.empty() ? 300 : 324) * s;
  // Under it, else over it; never on it.
  const bool under = thing.bottom + 120 * s < area.bottom;
  const float x = std::clamp(thing.middle_x() - wide / 2, area.left, area.right - wide);
  ImGui::SetNextWindowPos({x, under ? thing.bottom + gap : std::max(area.top, thing.top - gap)},
                          ImGuiCond_Always, {0, under ? 0.0F : 1.0F});
  ImGui::SetNextWindowSize({wide, 0});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.5F);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {12 * s, 10 * s});
  ImGui::PushStyleColor(ImGuiCol_Border, state.ink.theme.packed(Role::ink));
  ImGui::PushStyleColor(ImGuiCol_WindowBg, state.ink.theme.packed(Role::paper));
  ImGui::Begin("look paper", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoFocusOnAppearing);
  if (!lamp.shapes.empty()) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float high = 110 * s;
    const Camera camera = fit(lamp.extent, {at.x, at.y, at.x + 300 * s, at.y + high}, 2 * s);
    draw_scene(lamp, camera, state.ink, {}, *ImGui::GetWindowDrawList());
    ImGui::Dummy({300 * s, high + 4 * s});
  }
  for (const Message& said : mine.look_says) kit::words(state, said, kit::Tone::ink, wide - 24 * s);
  const std::string what =
      mine.look_at.starts_with('!') ? spoken(state, Term{mine.look_at.substr(1)}) : mine.look_at;
  kit::small_words(state, Name{fmt::format("{} · {}", what, clock_text(mine, mine.look_minute))});
  ImGui::SameLine(0, 18 * s);
  if (kit::choice(state, "fold look", phrase("fold"))) mine.look_at.clear();
  const ImVec2 low = ImGui::GetWindowPos(), size = ImGui::GetWindowSize();
  state.places["look"] = {low.x, low.y, low.x + size.x, low.y + size.y};
  mine.paper.hung.push_back(state.places["look"]);
  ImGui::End();
  ImGui::PopStyleColor(2);
  ImGui::PopStyleVar(2);
}

void draw_harm(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  if (mine.harm.empty()) return;
  const float s = state.ink.scale;
  const float wide = std::min(620 * s, area.right - area.left - 40 * s);
  ImGui::SetNextWindowPos({area.middle_x(), area.top + 12 * s}, ImGuiCond_Always, {0.5F, 0});
  ImGui::SetNextWindowSize({wide, 0});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 3);
  ImGui::PushStyleColor(ImGuiCol_Border, state.ink.theme.packed(Role::ink));
  ImGui::PushStyleColor(ImGuiCol_WindowBg, state.ink.theme.packed(Role::tag));
  ImGui::Begin("harm", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoFocusOnAppearing);
  for (const Message& harm : mine.harm) kit::caution(state, harm, wide - 40 * s);
  if (kit::choice(state, "close harm", phrase("Close"))) mine.harm.clear();
  const ImVec2 at = ImGui::GetWindowPos(), size = ImGui::GetWindowSize();
  state.places["harm"] = {at.x, at.y, at.x + size.x, at.y + size.y};
  ImGui::End();
  ImGui::PopStyleColor(2);
  ImGui::PopStyleVar();
}

void draw_ask(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  if (mine.asking.empty()) return;
  const float s = state.ink.scale;
  const float wide = std::min(560 * s, area.right - area.left - 40 * s);
  ImGui::SetNextWindowPos({area.middle_x(), area.top + 40 * s}, ImGuiCond_Always, {0.5F, 0});
  ImGui::SetNextWindowSize({wide, 0});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 2);
  ImGui::PushStyleColor(ImGuiCol_Border, state.ink.theme.packed(Role::ink));
  ImGui::PushStyleColor(ImGuiCol_WindowBg, state.ink.theme.packed(Role::tag));
  ImGui::Begin("ask", nullptr, ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoSavedSettings);
  kit::caution(state, mine.asking, wide - 40 * s);
  // "Not yet" first: Enter alone never puts a hand in.
  const bool leave = kit::choice(state, "ask not yet", phrase("Not yet"));
  ImGui::SameLine(0, 30 * s);
  const bool go = kit::choice(state, "ask go on", phrase("Do it all the same"));
  ImGui::End();
  ImGui::PopStyleColor(2);
  ImGui::PopStyleVar();
  if (leave || go) mine.asking = {};
  // The lead that was just put there comes off again.
  if (leave && !mine.black.empty() &&
      mine.asked_line == fmt::format("{} {} {}", mine.hand, mine.red, mine.black))
    take_back(state);
  if (go) give_step(state, mine.asked_line);
}

}  // namespace legwork::gui::on_site
