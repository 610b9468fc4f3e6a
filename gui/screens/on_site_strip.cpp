// Along the top and down the left: where one stands, when it is, and what can be done here.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "engine/base/quantity.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"

namespace legwork::gui::on_site {
namespace {

using session::Group;

void line(ImDrawList& list, float x1, float y1, float x2, float y2, unsigned colour,
          float width = 1) {
  const float snap = static_cast<int>(width) % 2 == 1 ? 0.5F : 0;
  const ImVec2 points[2] = {{std::floor(x1) + snap, std::floor(y1) + snap},
                            {std::floor(x2) + snap, std::floor(y2) + snap}};
  list.AddPolyline(points, 2, colour, 0, width);
}

// The places as a small plan: rooms in a row, joined by the way between them; the one where you
// stand is ringed in ink.
void draw_plan(State& state, OnSiteState& mine) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float s = state.ink.scale;
  std::string go;
  float way = 0;  // where the last room ends
  for (const session::PlaceView& place : mine.view.places) {
    if (way > 0) ImGui::SameLine(0, 34 * s);
    if (kit::pick(state, "place " + place.id, say("{Place}", {{"place", Term{place.id}}}),
                  place.here) &&
        !place.here)
      go = "go " + place.id;
    const ImVec2 from = ImGui::GetItemRectMin(), to = ImGui::GetItemRectMax();
    const ImVec2 low{std::floor(from.x - 9 * s) + 0.5F, std::floor(from.y - 1 * s) + 0.5F};
    const ImVec2 high{std::floor(to.x + 9 * s) + 0.5F, std::floor(to.y + 3 * s) + 0.5F};
    list.AddRect(low, high, state.ink.theme.packed(place.here ? Role::ink : Role::rule), 0, 0,
                 place.here ? 2.0F : 1.0F);
    if (place.outdoors) {  // no roof over it
      line(list, low.x, low.y, high.x, low.y, state.ink.theme.packed(Role::paper), 3);
    }
    const float middle = (low.y + high.y) / 2;
    if (way > 0) line(list, way, middle, low.x, middle, state.ink.theme.packed(Role::rule), 2);
    way = high.x;
    if (ImGui::IsItemHovered()) {
      kit::tip(state, place.here
                          ? place.name
                          : say("{place} · {time}", {{"place", place.name},
                                                     {"time", Name{minutes_text(place.minutes)}}}));
    }
  }
  if (!go.empty()) give_step(state, go);
}

void draw_trail(State& state, OnSiteState& mine, float left, float right, float y) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float s = state.ink.scale;
  const unsigned ink = state.ink.theme.packed(Role::ink), rule = state.ink.theme.packed(Role::rule);
  line(list, left, y, right, y, rule);
  const double span = std::max(30.0, std::ceil(mine.view.minutes / 15) * 15);
  const auto at = [&](double minute) {
    return left + static_cast<float>(minute / span) * (right - left);
  };
  for (double m = 0; m <= span; m += 5) line(list, at(m), y - 3 * s, at(m), y + 3 * s, rule);
  line(list, left, y, at(mine.view.minutes), y, ink, 2);
  const float mouse_x = ImGui::GetIO().MousePos.x, mouse_y = ImGui::GetIO().MousePos.y;
  std::string under;
  for (const session::TrailEntry& entry : mine.view.trail) {
    const float x = at(entry.at_minute);
    const bool harm = entry.kind == session::TrailKind::hazard;
    const bool happened = entry.kind == session::TrailKind::happening;
    const float up = harm ? 9 * s : happened ? 5 * s : 7 * s;
    line(list, x, happened ? y : y - up, x, y + (happened ? up : 0), ink, harm ? 3.0F : 1.0F);
    if (std::abs(mouse_x - x) < 4 * s && std::abs(mouse_y - y) < 10 * s) {
      under += (under.empty() ? "" : "\n") +
               fmt::format("{:.0f} min  {}", entry.at_minute, spoken(state, entry.text));
    }
  }
  if (!under.empty()) kit::tip(state, Name{under});
}

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

}  // namespace

std::string minutes_text(double minutes) {
  if (minutes <= 0) return "0 min";
  if (minutes < 1) return fmt::format("{:.0f} s", minutes * 60);
  const double whole = std::round(minutes);
  return std::abs(whole - minutes) < 0.05 ? fmt::format("{:.0f} min", whole)
                                          : fmt::format("{:.1f} min", minutes);
}

float draw_strip(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  ImGui::SetCursorScreenPos({area.left + 10 * s, area.top});
  ImGui::BeginGroup();
  draw_plan(state, mine);
  ImGui::EndGroup();
  // Clock and weather at the right end.
  const int minute = mine.view.clock_minute;
  const std::string clock = fmt::format(
      "{:02}:{:02}   {} {}", minute / 60 % 24, minute % 60, spoken(state, phrase("outdoors")),
      spoken(state, amount(mine.view.ticket.outdoor_c + 273.15, Dimension::temperature, 0)));
  ImGui::PushFont(state.ink.fonts.mono);
  const float wide = ImGui::CalcTextSize(clock.c_str()).x + 12 * s;
  ImGui::PopFont();
  ImGui::SetCursorScreenPos({area.right - wide, area.top + 4 * s});
  kit::mono(state, Name{clock});
  float y = area.top + 38 * s;
  draw_trail(state, mine, area.left, area.right, y + 6 * s);
  y += 20 * s;
  if (mine.ticket_open) {
    ImGui::SetCursorScreenPos({area.left, y});
    const session::TicketView& ticket = mine.view.ticket;
    kit::words(state, say("{title}: “{said}”", {{"title", ticket.title}, {"said", ticket.said}}),
               kit::Tone::ink, area.right - area.left - 170 * s);
    if (!ticket.found.empty()) {
      ImGui::SetCursorScreenPos({area.left, ImGui::GetCursorScreenPos().y});
      kit::small_words(state, ticket.found);
    }
    if (!ticket.hat.empty()) {
      ImGui::SetCursorScreenPos({area.left, ImGui::GetCursorScreenPos().y});
      kit::small_words(
          state, say("Out of the hat, number {n}: the same call for whoever takes that number.",
                     {{"n", Name{ticket.hat}}}));
    }
    y = ImGui::GetCursorScreenPos().y;
    ImGui::SetCursorScreenPos({area.right - 150 * s, area.top + 52 * s});
    if (kit::choice(state, "fold ticket", phrase("Fold the ticket"))) mine.ticket_open = false;
  } else {
    ImGui::SetCursorScreenPos({area.left, y});
    if (kit::choice(state, "unfold ticket", phrase("Unfold the ticket"))) mine.ticket_open = true;
    y = ImGui::GetCursorScreenPos().y;
  }
  return y;
}

void draw_here(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  ImGui::SetCursorScreenPos({area.left, area.top});
  const float foot = 66 * s;  // ringing the shop and writing it up stay in sight
  state.places["here"] = {area.left, area.top, area.right, area.bottom - foot};
  ImGui::BeginChild("here", {area.right - area.left, area.bottom - area.top - foot}, false,
                    ImGuiWindowFlags_NavFlattened);
  std::string step;
  for (const session::PlaceView& place : mine.view.places) {
    if (place.here) kit::words(state, place.name, kit::Tone::dim, area.right - area.left - 8 * s);
  }
  kit::gap(state, 2);
  for (const GroupWords& group : kGroups) {
    const bool any =
        std::any_of(mine.view.actions.begin(), mine.view.actions.end(),
                    [&](const auto& a) { return a.group == group.group && !a.open_ended; });
    if (!any) continue;
    const bool open = mine.group == group.name;
    if (kit::pick(state, std::string("group ") + group.name, group.words, open)) {
      mine.group = open ? "" : group.name;
    }
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
      const Message text = say("{label} · {time}", {{"label", action.label},
                                                    {"time", Name{minutes_text(action.minutes)}}});
      if (kit::choice(state, "do " + action.line, text,
                      action.allowed ? Message() : action.why_not)) {
        step = action.line;
      }
    }
    ImGui::Unindent(12 * s);
  }
  ImGui::EndChild();
  kit::at(area.left, area.bottom - foot + 4 * s);
  ImGui::BeginGroup();
  if (kit::choice(state, "ring the shop",
                  say("Ring the shop · {time}, {points} points",
                      {{"time", Name{minutes_text(mine.view.shop_minutes)}},
                       {"points", Number{mine.view.shop_points, 0}}}))) {
    step = "ring the shop";
  }
  if (kit::choice(state, "to write-up", phrase("Write it up"))) state.screen = "write-up";
  ImGui::EndGroup();
  if (!step.empty()) give_step(state, step);
}

}  // namespace legwork::gui::on_site
