// The meter on the tailgate: what it shows and whether that is live, held or stale, its functions,
// and what was watched.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "engine/circuit/circuit.h"
#include "engine/unit/unit.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"

namespace legwork::gui::on_site {
namespace {

struct InHand {
  const char* verb;
  Phrase name;
  Phrase dial;  // as short as the meter's dial has it
};
constexpr InHand kInHand[] = {{"volts", phrase("Volts"), phrase("Volts")},
                              {"lowz", phrase("Low impedance"), phrase("Low Z")},
                              {"dc", phrase("DC volts"), phrase("DC")},
                              {"ohms", phrase("Ohms"), phrase("Ohms")},
                              {"continuity", phrase("Continuity"), phrase("Beep")},
                              {"microfarads", phrase("Microfarads"), phrase("µF")},
                              {"clamp", phrase("Clamp"), {}},
                              {"peak", phrase("Clamp, peak hold"), {}},
                              {"insulation", phrase("Insulation tester"), {}},
                              {"temp", phrase("Thermometer"), {}}};
constexpr int kFunctions = 6;  // of them, those of the meter itself

// The instrument in hand as it hangs on the machine, or as it was taken off; null: not yet put on.
const session::InstrumentView* hooked(const OnSiteState& mine) {
  for (const session::InstrumentView& it : mine.view.hooked) {
    if (it.function == mine.hand) return &it;
  }
  return nullptr;
}

// Both leads on the terminals that it reads, or the clamp or thermometer where it was put.
bool is_on(const OnSiteState& mine, const session::InstrumentView& it) {
  if (touch_of(mine.hand) != Touch::two_leads) return true;
  return it.at.size() == 2 && ((it.at[0] == mine.red && it.at[1] == mine.black) ||
                               (it.at[0] == mine.black && it.at[1] == mine.red));
}

// One line of what the meter is doing.
Message meter_note(const OnSiteState& mine) {
  const Touch touch = touch_of(mine.hand);
  const auto lead = [&](bool red) {
    return red ? say("red {screw}", {{"screw", Name{mine.red}}})
               : say("black {screw}", {{"screw", Name{mine.black}}});
  };
  if (mine.taken >= 0)
    return mine.taken == 0 ? phrase("red lead in hand: click a screw")
                           : phrase("black lead in hand: click a screw");
  if (touch == Touch::two_leads) {
    const session::InstrumentView* it = hooked(mine);
    if (it != nullptr && !it->why.empty() && it->state == session::InstrumentView::State::stale)
      return it->why;
    if (!mine.red.empty() && !mine.black.empty())
      return say("{red} · {black}", {{"red", lead(true)}, {"black", lead(false)}});
    if (!mine.red.empty()) return lead(true);
    if (!mine.black.empty()) return lead(false);
    if (!mine.shown.empty() && mine.shown_minute >= 0)
      return say("held at {time}, leads off",
                 {{"time", Name{clock_text(mine, mine.shown_minute)}}});
    return phrase("leads off");
  }
  if (touch == Touch::around_a_wire)
    return mine.red.empty() ? Message(phrase("click a conductor")) : Message(Name{mine.red});
  return mine.red.empty() ? Message(phrase("click a point")) : Message(Term{mine.red.substr(1)});
}

}  // namespace

void draw_meter(State& state, Place at) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const unsigned ink = state.ink.theme.packed(Role::ink), dim = state.ink.theme.packed(Role::dim);
  list.AddRectFilled({at.left, at.top}, {at.right, at.bottom}, state.ink.theme.packed(Role::paper),
                     10 * s);
  list.AddRect({at.left, at.top}, {at.right, at.bottom}, ink, 10 * s, 0, 2 * s);
  const Place glass{at.left + 10 * s, at.top + 12 * s, at.right - 10 * s, at.top + 76 * s};
  list.AddRectFilled({glass.left, glass.top}, {glass.right, glass.bottom},
                     state.ink.theme.packed(Role::plate));
  list.AddRect({glass.left, glass.top}, {glass.right, glass.bottom}, ink);
  const Touch touch = touch_of(mine.hand);
  const bool on = touch != Touch::two_leads || (!mine.red.empty() && !mine.black.empty());
  const session::InstrumentView* reading = hooked(mine);
  const bool live = on && reading != nullptr && is_on(mine, *reading) &&
                    reading->state == session::InstrumentView::State::live;
  if (reading != nullptr && (mine.shown.empty() || is_on(mine, *reading))) {
    mine.shown = reading->shown;
    mine.shown_minute = reading->at_minute;
  }
  ImFont* small = state.ink.fonts.small;
  const std::string title = spoken(state, name_of_instrument(mine.hand));
  list.AddText(small, small->FontSize, {glass.left + 8 * s, glass.top + 4 * s}, dim, title.c_str());
  const std::string shown = mine.shown.empty() ? "– – –" : spoken(state, mine.shown);
  ImFont* font = state.ink.fonts.digits;
  const float full = font->CalcTextSizeA(font->FontSize, 1e9F, 0, shown.c_str()).x;
  const float size =
      font->FontSize * std::min(1.0F, (glass.right - glass.left - 110 * s) / std::max(1.0F, full));
  const float wide = full * size / font->FontSize;
  list.AddText(font, size, {std::floor(glass.right - 10 * s - wide), std::floor(glass.top + 6 * s)},
               live ? ink : dim, shown.c_str());
  const Message said = meter_note(mine);
  std::string note = spoken(state, said);
  if (live && touch == Touch::two_leads && mine.taken < 0) {
    const std::string whole = spoken(state, say("live: {leads}", {{"leads", said}}));
    if (small->CalcTextSizeA(small->FontSize, 1e9F, 0, whole.c_str()).x <
        glass.right - glass.left - 12 * s)
      note = whole;
  }
  list.PushClipRect({glass.left, glass.top}, {glass.right - 4 * s, glass.bottom}, true);
  list.AddText(small, small->FontSize, {glass.left + 8 * s, glass.bottom - small->FontSize - 5 * s},
               ink, note.c_str());
  list.PopClipRect();
  state.places["meter"] = glass;
  mine.paper.meter = at;
  mine.paper.jacks[0] = {at.right - 66 * s, at.top + 1};
  mine.paper.jacks[1] = {at.right - 30 * s, at.top + 1};
  for (int i = 0; i < 2; ++i) {
    const ImVec2 jack{mine.paper.jacks[i].x, mine.paper.jacks[i].y};
    list.AddCircleFilled(jack, 7 * s, state.ink.theme.packed(Role::paper), 20);
    list.AddCircle(jack, 7 * s, state.ink.theme.packed(i == 0 ? Role::red_lead : Role::black_lead),
                   20, 3 * s);
  }
  kit::at(at.left + 14 * s, glass.bottom + 6 * s);
  for (int i = 0; i < kFunctions; ++i) {
    if (i > 0) ImGui::SameLine(0, 13 * s);
    const std::string verb = kInHand[i].verb;
    if (kit::pick(state, "hand " + verb, kInHand[i].dial, mine.hand == verb)) take(mine, verb);
  }
  kit::at(at.left + 14 * s, glass.bottom + 6 * s + std::max(26 * s, 25.0F));
  if (!mine.view.instruments.meter_proven) {
    if (kit::choice(state, "prove meter", phrase("Prove it"))) give_step(state, "prove meter");
    ImGui::SameLine(0, 12 * s);
  }
  if (touch == Touch::two_leads && on) {
    if (kit::choice(state, "read", phrase("Read")))
      ask_step(state, fmt::format("{} {} {}", mine.hand, mine.red, mine.black));
    ImGui::SameLine(0, 12 * s);
    if (kit::choice(state, "watch", phrase("Watch 1 min")))
      give_step(state, fmt::format("watch {} {} {} for 1 min", mine.hand, mine.red, mine.black));
    ImGui::SameLine(0, 12 * s);
    if (kit::choice(state, "leads off", phrase("Off"))) take_off(state, -1);
  }
}

// What was watched as a line over time, with its lowest and highest.
void draw_watched(const State& state, Place area) {
  const OnSiteState& mine = state.screens->on_site;
  if (mine.watched.empty()) return;
  const float s = state.ink.scale;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const auto [low, high] =
      std::minmax_element(mine.watched.begin(), mine.watched.end(),
                          [](const auto& a, const auto& b) { return a.value < b.value; });
  ImFont* small = state.ink.fonts.small;
  const std::string least = spoken(state, low->shown), most = spoken(state, high->shown);
  const auto wide = [&](const std::string& text) {
    return small->CalcTextSizeA(small->FontSize, 1e9F, 0, text.c_str()).x;
  };
  const float right = area.right - std::max(wide(least), wide(most)) - 8 * s;
  const double from = mine.watched.front().tick;
  const double span = std::max(1.0, mine.watched.back().tick - from);
  const double range = std::max(1e-12, high->value - low->value);
  std::vector<ImVec2> points;
  for (const OnSiteState::Watched& it : mine.watched) {
    const float x = area.left + static_cast<float>((it.tick - from) / span) * (right - area.left);
    const float y =
        area.bottom - 4 * s -
        static_cast<float>((it.value - low->value) / range) * (area.bottom - area.top - 8 * s);
    if (!points.empty()) points.push_back({x, points.back().y});  // it stood until it moved
    points.push_back({x, y});
  }
  const unsigned ink = state.ink.theme.packed(Role::ink), dim = state.ink.theme.packed(Role::dim);
  list.AddPolyline(points.data(), static_cast<int>(points.size()), ink, 0, 1.5F * s);
  list.AddText(small, small->FontSize, {std::floor(right + 6 * s), std::floor(area.top)}, dim,
               most.c_str());
  list.AddText(small, small->FontSize,
               {std::floor(right + 6 * s), std::floor(area.bottom - small->FontSize)}, dim,
               least.c_str());
}

float meter_wide(const State& state) {
  const float s = state.ink.scale;
  const auto row = [&](std::initializer_list<Phrase> words, float gap) {
    float wide = 0;
    for (const Phrase& word : words)
      wide += std::max(24.0F, ImGui::CalcTextSize(spoken(state, word).c_str()).x) + gap;
    return wide;
  };
  float functions = 0;
  for (int i = 0; i < kFunctions; ++i) functions += row({kInHand[i].dial}, 13 * s);
  const float below =
      row({phrase("Prove it"), phrase("Read"), phrase("Watch 1 min"), phrase("Off")}, 12 * s);
  return std::max({320 * s, functions + 20 * s, below + 20 * s});
}

std::vector<std::string> instruments() {
  std::vector<std::string> verbs;
  for (const InHand& row : kInHand) verbs.emplace_back(row.verb);
  return verbs;
}

Message name_of_instrument(const std::string& verb) {
  for (const InHand& row : kInHand) {
    if (verb == row.verb) return row.name;
  }
  return verb == "jumper" ? Message(phrase("Jumper"))
         : verb == "lift" ? Message(phrase("Lift a wire"))
                          : Message();
}

}  // namespace legwork::gui::on_site
