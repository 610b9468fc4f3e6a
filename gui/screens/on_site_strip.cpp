// Along the top: where one stands, what the ticket says, when it is.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "engine/unit/unit.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/screens.h"
#include "gui/screens/states.h"

namespace legwork::gui::on_site {
namespace {

void line(ImDrawList& list, float x1, float y1, float x2, float y2, unsigned colour,
          float width = 1) {
  const float snap = static_cast<int>(width) % 2 == 1 ? 0.5F : 0;
  const ImVec2 points[2] = {{std::floor(x1) + snap, std::floor(y1) + snap},
                            {std::floor(x2) + snap, std::floor(y2) + snap}};
  list.AddPolyline(points, 2, colour, 0, width);
}

// The places as the rooms of a section, joined by the way between them, minutes beside each.
float draw_places(State& state, OnSiteState& mine, float left, float top) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float s = state.ink.scale;
  std::string go;
  float way = 0;  // where the last room ends
  kit::at(left + 10 * s, top);
  for (const session::PlaceView& place : mine.view.places) {
    if (way > 0) ImGui::SameLine(0, 26 * s);
    if (kit::pick(state, "place " + place.id, say("{Place}", {{"place", Term{place.id}}}),
                  place.here) &&
        !place.here)
      go = "go " + place.id;
    const ImVec2 from = ImGui::GetItemRectMin(), to = ImGui::GetItemRectMax();
    float right = to.x;
    if (!place.here) {
      ImGui::SameLine(0, 5 * s);
      kit::small_words(state, Name{minutes_text(place.minutes)});
      right = ImGui::GetItemRectMax().x;
    }
    const ImVec2 low{std::floor(from.x - 8 * s) + 0.5F, std::floor(from.y - 1 * s) + 0.5F};
    const ImVec2 high{std::floor(right + 8 * s) + 0.5F, std::floor(to.y + 3 * s) + 0.5F};
    list.AddRect(low, high, state.ink.theme.packed(place.here ? Role::ink : Role::rule), 0, 0,
                 place.here ? 2.0F : 1.0F);
    if (place.outdoors)  // no roof over it
      line(list, low.x, low.y, high.x, low.y, state.ink.theme.packed(Role::paper), 3);
    const float middle = (low.y + high.y) / 2;
    if (way > 0) line(list, way, middle, low.x, middle, state.ink.theme.packed(Role::rule), 2);
    way = high.x;
  }
  if (!go.empty()) give_step(state, go);
  return way;
}

// The site as a section: ground, building, the box in it, the machine on the roof or beside it; a
// ring where one stands.
void draw_section(State& state, const OnSiteState& mine, float left, float top) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float s = state.ink.scale;
  const unsigned ink = state.ink.theme.packed(Role::ink),
                 paper = state.ink.theme.packed(Role::paper);
  const float ground = top + 54 * s;
  const auto room = [&](float x, float y, float wide, float high, unsigned fill) {
    const ImVec2 low{left + x * s, ground - (y + high) * s},
        far{left + (x + wide) * s, ground - y * s};
    list.AddRectFilled(low, far, fill);
    list.AddRect(low, far, ink, 0, 0, 1.25F);
  };
  line(list, left, ground, left + 132 * s, ground, ink, 1);
  room(14, 0, 84, 34, paper);
  bool on_roof = false, boxed = false;
  for (const unit::Place& place : mine.view.unit->places) {
    boxed = boxed || place.in_box;
    on_roof = on_roof || (place.outdoors && place.id == "roof");
  }
  if (boxed) room(20, 0, 34, 24, state.ink.theme.packed(Role::plate));
  const float unit_x = on_roof ? 62 : 104, unit_y = on_roof ? 34 : 0;
  bool outdoors = false;
  ImVec2 here{left + 6 * s, ground - 8 * s};
  for (const unit::Place& place : mine.view.unit->places) {
    outdoors = outdoors || place.outdoors;
    if (place.id != mine.view.place) continue;
    if (place.in_box) {
      here = {left + 37 * s, ground - 10 * s};
    } else if (place.outdoors) {
      here = {left + (unit_x + 11) * s, ground - (unit_y + 20) * s};
    } else if (&place != &mine.view.unit->places.front()) {
      here = {left + 76 * s, ground - 10 * s};
    }
  }
  if (outdoors) room(unit_x, unit_y, 22, 12, paper);
  list.AddCircleFilled(here, 5 * s, state.ink.theme.packed(Role::marker), 16);
  list.AddCircle(here, 5 * s, ink, 16, 1.5F);
}

// A click on it opens the pad with all that it has.
void draw_trail(State& state, OnSiteState& mine, float left, float right, float y) {
  const float least = std::max(24.0F, 26 * state.ink.scale);
  if (right - left > 24) {
    kit::at(left, std::floor(y - 11 * state.ink.scale));
    if (ImGui::InvisibleButton("trail", {right - left, least})) {
      mine.pad_open = !(mine.pad_open && mine.pad_trail);
      mine.pad_trail = true;
    }
    kit::remember(state, "trail");
  }
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

// The ticket unfolded, over the windows.
void draw_ticket(State& state, OnSiteState& mine, float left, float top, float wide) {
  const float s = state.ink.scale;
  const session::TicketView& ticket = mine.view.ticket;
  ImGui::SetNextWindowPos({left, top});
  ImGui::SetNextWindowSize({wide, 0});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
  ImGui::Begin("ticket", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoFocusOnAppearing);
  kit::strong(state, ticket.title);
  kit::words(state, kit::quoted(ticket.said), kit::Tone::ink, wide - 40 * s);
  if (!ticket.found.empty()) kit::small_words(state, ticket.found);
  if (!ticket.hat.empty())
    kit::small_words(state,
                     say("Out of the hat, number {n}: the same call for whoever takes that number.",
                         {{"n", Name{ticket.hat}}}));
  if (kit::choice(state, "fold ticket", phrase("Fold the ticket"))) mine.ticket_open = false;
  ImGui::End();
  ImGui::PopStyleVar();
}

}  // namespace

std::string minutes_text(double minutes) {
  if (minutes <= 0) return "0 min";
  if (minutes < 1) return fmt::format("{:.0f} s", minutes * 60);
  const double whole = std::round(minutes);
  return std::abs(whole - minutes) < 0.05 ? fmt::format("{:.0f} min", whole)
                                          : fmt::format("{:.1f} min", minutes);
}

std::string clock_text(const OnSiteState& mine, double minute) {
  const int at = mine.view.ticket.starts_at_minute + static_cast<int>(std::floor(minute));
  return fmt::format("{:02}:{:02}", at / 60 % 24, at % 60);
}

bool is_small(const State& state) { return ImGui::GetIO().DisplaySize.x < 1480 * state.ink.scale; }

float draw_strip(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  const float section = is_small(state) ? 0 : 146 * s;
  if (section > 0) draw_section(state, mine, area.left, area.top);
  area.left += section;
  const float after = draw_places(state, mine, area.left, area.top + 2 * s) + 22 * s;
  // Clock and weather at the right end, and the waiting under them.
  const int minute = mine.view.clock_minute;
  const std::string clock = fmt::format("{:02}:{:02}", minute / 60 % 24, minute % 60);
  ImFont* digits = state.ink.fonts.title;
  const float wide = digits->CalcTextSizeA(digits->FontSize, 1e9F, 0, clock.c_str()).x;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  // Home, help and back stand in the corner.
  const float edge = area.right;
  area.right = corner_left(state);
  list.AddText(digits, digits->FontSize,
               {std::floor(area.right - wide), std::floor(area.top - 2 * s)},
               state.ink.theme.packed(Role::ink), clock.c_str());
  state.places["clock"] = {area.right - wide, area.top, area.right, area.top + digits->FontSize};
  const std::string weather = fmt::format(
      "{} {}", spoken(state, phrase("outdoors")),
      spoken(state, amount(mine.view.ticket.outdoor_c + 273.15, Dimension::temperature, 0)));
  ImFont* small = state.ink.fonts.small;
  const float weather_wide = small->CalcTextSizeA(small->FontSize, 1e9F, 0, weather.c_str()).x;
  // Beside the clock; where the places need that room, at the end of the second line.
  const session::TicketView& ticket = mine.view.ticket;
  const std::string unfold =
      spoken(state, mine.ticket_open ? phrase("Fold the ticket") : phrase("the ticket"));
  const float unfold_wide = ImGui::CalcTextSize(unfold.c_str()).x;
  const float second = area.top + 34 * s;
  float weather_left = area.right - wide - weather_wide - 14 * s;
  float runs_right = edge, weather_top = area.top + 5 * s;
  const bool below = after + unfold_wide + 30 * s > weather_left;
  if (below) {
    weather_left = edge - weather_wide;
    weather_top = second + 1 * s;
    runs_right = weather_left - 16 * s;
  }
  list.AddText(small, small->FontSize, {std::floor(weather_left), std::floor(weather_top)},
               state.ink.theme.packed(Role::dim), weather.c_str());
  if (below) weather_left = area.right - wide;
  std::string run;
  // The ticket's first line between them.
  const float room = weather_left - after - unfold_wide - 40 * s;
  if (room > 60 * s) {
    ImFont* body = state.ink.fonts.body;
    const std::string first = kit::shortened(
        body,
        spoken(state, say("{title}: “{said}”", {{"title", ticket.title}, {"said", ticket.said}})),
        room);
    list.AddText(body, body->FontSize, {std::floor(after), std::floor(area.top + 3 * s)},
                 state.ink.theme.packed(Role::ink), first.c_str());
  }
  // Where the places come up to the clock, before the trail.
  const bool before_trail = after + unfold_wide + 8 * s > area.right - wide;
  float trail_left = area.left;
  if (before_trail) {
    trail_left += unfold_wide + 18 * s;
    kit::at(area.left, second - 4 * s);
  } else {
    kit::at(std::max(after, weather_left - unfold_wide - 22 * s), area.top);
  }
  if (!mine.ticket_open) {
    if (kit::choice(state, "unfold ticket", phrase("the ticket"))) mine.ticket_open = true;
  }
  area.right = edge;
  // Letting it run, at the right of the trail.
  float runs = 16 * s;
  static constexpr std::pair<const char*, Phrase> kRuns[] = {
      {"let it run 1 min", phrase("Let it run 1 min")},
      {"let it run 5 min", phrase("5 min")},
      {"let it run until change", phrase("until a change")}};
  for (const auto& [line_of, words] : kRuns)
    runs += ImGui::CalcTextSize(spoken(state, words).c_str()).x + 16 * s;
  kit::at(runs_right - runs + 16 * s, second - 4 * s);
  for (const auto& [line_of, words] : kRuns) {
    if (kit::choice(state, line_of, words)) run = line_of;
    ImGui::SameLine(0, 16 * s);
  }
  draw_trail(state, mine, trail_left, runs_right - runs - 14 * s, second + 9 * s);
  const float bottom = std::max(second + 26 * s, second - 2 * s + 24);
  if (mine.ticket_open)
    draw_ticket(state, mine, std::min(after, area.right - 480 * s), area.top + 30 * s,
                std::min(620 * s, area.right - std::min(after, area.right - 480 * s)));
  if (!run.empty()) give_step(state, run);
  return bottom;
}

}  // namespace legwork::gui::on_site
