// What was seen and what was heard, two lines with their times. A contactor that comes and goes is
// a stepped line. Nothing stands here that the trainee did not observe.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "engine/unit/unit.h"
#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"
#include "gui/sheet/ladder.h"
#include "gui/sheet/ladder_rows.h"
#include "gui/sheet/outside.h"
#include "gui/sheet/parts.h"

namespace legwork::gui::on_site {
namespace {

struct Entry {
  std::string words;
  double at_minute;
  bool here;
};

std::string thing_words(const State& state, const unit::Look& look, int seen) {
  const std::string key = look.target == "air filter"
                              ? fmt::format("looked.filter {}", seen)
                              : fmt::format("looked.{} {}", numbered(look.quantity).name, seen);
  if (SceneText::knows(key))
    return spoken(state, Term{look.target}) + ": " + SceneText{speech(state)}.word_of(key);
  return spoken(state, look.states[static_cast<std::size_t>(seen)].words);
}

bool at_place(const OnSiteState& mine, const std::string& device) {
  const unit::Spot* spot = mine.view.unit->spot_of(mine.view.unit->circuit.find_device(device));
  return spot != nullptr && spot->place == mine.view.place;
}

// What was seen, what stands here first, the latest first.
std::vector<Entry> seen_entries(const State& state, const OnSiteState& mine) {
  std::vector<Entry> list;
  for (const auto& [id, sight] : mine.sights.parts) {
    list.push_back({fmt::format("{} {}", id, seen_word(state, sight.how)), sight.at_minute,
                    at_place(mine, id)});
  }
  for (const auto& [wire, screw] : mine.sights.lifted) {
    const circuit::Circuit& circuit = mine.view.unit->circuit;
    const circuit::WireId id = circuit.find_wire(wire);
    const auto step = std::find_if(
        mine.view.trail.rbegin(), mine.view.trail.rend(), [&](const session::TrailEntry& it) {
          return it.kind == session::TrailKind::step && it.step.verb == "lift" &&
                 !it.step.arguments.empty() && it.step.arguments.front() == wire;
        });
    if (!id.valid() || step == mine.view.trail.rend()) continue;
    const int number = conductor_numbers(circuit)[circuit.wires[id.slot()].from.slot()];
    list.push_back({spoken(state, say("conductor {n} off {screw}",
                                      {{"n", Number{number}}, {"screw", Name{screw}}})),
                    step->at_minute, at_place(mine, screw.substr(0, screw.rfind('.')))});
  }
  for (const auto& [id, words] : mine.sights.told)
    list.push_back(
        {fmt::format("{}: {}", id, spoken(state, words)), mine.view.minutes, at_place(mine, id)});
  const unit::Unit& unit = *mine.view.unit;
  for (std::size_t i = 0; i < unit.looks.size() && i < mine.sights.looks.size(); ++i) {
    const LookSight& look = mine.sights.looks[i];
    if (look.state < 0 || how_of_look(unit, unit.looks[i], look.state)) continue;
    list.push_back({thing_words(state, unit.looks[i], look.state), look.at_minute,
                    unit.looks[i].place == mine.view.place});
  }
  std::stable_sort(list.begin(), list.end(), [](const Entry& a, const Entry& b) {
    return a.here != b.here ? a.here : a.at_minute > b.at_minute;
  });
  return list;
}

std::vector<Entry> heard_entries(const State& state, const OnSiteState& mine) {
  std::vector<Entry> list;
  for (const auto& [id, sight] : mine.sights.sounds) {
    list.push_back({fmt::format("{} {}", id, seen_word(state, sight.how)), sight.at_minute,
                    at_place(mine, id)});
  }
  for (const Message& caught : mine.caught)
    list.push_back({spoken(state, caught), mine.view.minutes, true});
  std::stable_sort(list.begin(), list.end(),
                   [](const Entry& a, const Entry& b) { return a.at_minute > b.at_minute; });
  return list;
}

// Things here that can be looked at and were not.
std::vector<std::string> not_looked_at(const State& state, const OnSiteState& mine) {
  std::vector<std::string> list;
  const unit::Unit& unit = *mine.view.unit;
  for (std::size_t i = 0; i < unit.looks.size() && i < mine.sights.looks.size(); ++i) {
    const unit::Look& look = unit.looks[i];
    if (mine.sights.looks[i].state >= 0 || look.place != mine.view.place) continue;
    const bool device = unit.circuit.find_device(look.target).valid();
    if (device && mine.sights.of(look.target) != nullptr) continue;
    std::string words = device ? look.target : spoken(state, Term{look.target});
    if (std::find(list.begin(), list.end(), words) == list.end()) list.push_back(std::move(words));
  }
  return list;
}

// Writes entries with their times up to `right`; returns where it came to.
float write(const State& state, const OnSiteState& mine, const std::vector<Entry>& entries, float x,
            float y, float right, ImDrawList& list) {
  const float s = state.ink.scale;
  ImFont* font = state.ink.fonts.body;
  ImFont* small = state.ink.fonts.sheet(true, 12 * s);
  for (const Entry& entry : entries) {
    const std::string time = mine.view.minutes - entry.at_minute < 0.51
                                 ? spoken(state, phrase("now"))
                                 : clock_text(mine, entry.at_minute);
    const float wide = font->CalcTextSizeA(font->FontSize, 1e9F, 0, entry.words.c_str()).x;
    const float after = small->CalcTextSizeA(small->FontSize, 1e9F, 0, time.c_str()).x;
    if (x + wide + after + 8 * s > right) break;
    list.AddText(font, font->FontSize, {std::floor(x), std::floor(y)},
                 state.ink.theme.packed(entry.here ? Role::ink : Role::dim), entry.words.c_str());
    x += wide + 6 * s;
    list.AddText(small, small->FontSize,
                 {std::floor(x), std::floor(y + (font->FontSize - small->FontSize) / 2 + 1)},
                 state.ink.theme.packed(Role::dim), time.c_str());
    x += after + 18 * s;
  }
  return x;
}

// The part that has come and gone most of late, as a stepped line over the last half hour.
void draw_steps_of(const State& state, const OnSiteState& mine, float left, float right, float y,
                   ImDrawList& list) {
  constexpr double kSpan = 30;  // minutes shown
  const std::vector<Change>* most = nullptr;
  std::string id;
  const double from = mine.view.minutes - kSpan;
  std::size_t count = 1;
  for (const auto& [device, changes] : mine.sights.changes) {
    const auto late = static_cast<std::size_t>(std::count_if(
        changes.begin(), changes.end(), [&](const Change& c) { return c.at_minute > from; }));
    if (late <= count) continue;
    count = late;
    most = &changes;
    id = device;
  }
  if (most == nullptr || right - left < 120 * state.ink.scale) return;
  const float s = state.ink.scale;
  ImFont* font = state.ink.fonts.sheet(true, 12 * s);
  const float name = font->CalcTextSizeA(font->FontSize, 1e9F, 0, id.c_str()).x + 8 * s;
  list.AddText(font, font->FontSize, {std::floor(left), std::floor(y + 2 * s)},
               state.ink.theme.packed(Role::dim), id.c_str());
  const float first = left + name, high = 12 * s, base = y + 15 * s;
  const auto at = [&](double minute) {
    return first + static_cast<float>(std::clamp((minute - from) / kSpan, 0.0, 1.0)) *
                       (right - first - 4 * s);
  };
  const auto is_on = [](How how) {
    return how == How::pulled_in || how == How::turns || how == How::defrost;
  };
  std::vector<ImVec2> points;
  bool on = !is_on(most->front().how);
  for (const Change& change : *most) {
    if (change.at_minute <= from) {
      on = is_on(change.how);
      continue;
    }
    if (points.empty()) points.push_back({first, base - (on ? high : 0)});
    points.push_back({at(change.at_minute), base - (on ? high : 0)});
    on = is_on(change.how);
    points.push_back({at(change.at_minute), base - (on ? high : 0)});
  }
  points.push_back({at(mine.view.minutes), base - (on ? high : 0)});
  list.AddPolyline(points.data(), static_cast<int>(points.size()),
                   state.ink.theme.packed(Role::ink), 0, 1.5F * s);
}

}  // namespace

std::string seen_word(const State& state, How how) {
  return SceneText{speech(state)}.word_of(std::string("seen.") + name_of(how));
}

float draw_senses(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const unsigned rule = state.ink.theme.packed(Role::rule), dim = state.ink.theme.packed(Role::dim);
  const float line = state.ink.fonts.body->FontSize + 3 * s;
  const bool one = is_small(state);
  const float bottom = area.top + (one ? 1 : 2) * line + 8 * s;
  for (const float y : {area.top, bottom}) {
    const ImVec2 ruled[2] = {{area.left, std::floor(y) + 0.5F}, {area.right, std::floor(y) + 0.5F}};
    list.AddPolyline(ruled, 2, rule, 0, 1);
  }
  ImFont* small = state.ink.fonts.small;
  const auto head = [&](const Phrase& words, float x, float y) {
    const std::string text = spoken(state, words);
    list.AddText(small, small->FontSize, {std::floor(x), std::floor(y + 2 * s)}, dim, text.c_str());
    return x + small->CalcTextSizeA(small->FontSize, 1e9F, 0, text.c_str()).x + 10 * s;
  };
  const std::vector<std::string> missing = not_looked_at(state, mine);
  const std::string unseen =
      spoken(state, say("{n} not looked at", {{"n", Number{missing.size()}}}));
  const float unseen_wide = missing.empty() ? 0 : ImGui::CalcTextSize(unseen.c_str()).x + 14 * s;
  const float y = area.top + 4 * s;
  const float middle = one ? area.left + (area.right - area.left) * 0.60F : area.right;
  const float first = head(phrase("Seen"), area.left, y);
  const std::vector<Entry> seen = seen_entries(state, mine);
  write(state, mine, seen, first, y, (one ? middle : area.right - unseen_wide) - 8 * s, list);
  if (seen.empty()) head(phrase("nothing so far"), first, y);
  const float heard_left = one ? middle : area.left;
  const float heard_y = one ? y : y + line;
  const float heard_right = one ? area.right - unseen_wide : area.right;
  const float at = head(phrase("Heard"), heard_left, heard_y);
  const std::vector<Entry> heard = heard_entries(state, mine);
  const float after = write(state, mine, heard, at, heard_y,
                            one ? heard_right : area.left + (area.right - area.left) * 0.6F, list);
  if (heard.empty()) head(phrase("nothing so far"), at, heard_y);
  if (!one)
    draw_steps_of(state, mine, std::max(after + 20 * s, area.right - 460 * s), area.right, heard_y,
                  list);
  if (!missing.empty()) {
    kit::at(area.right - unseen_wide + 10 * s, y - 3 * s);
    if (kit::choice(state, "not looked at", Name{unseen})) mine.seen_open = !mine.seen_open;
  }
  if (mine.seen_open && !missing.empty()) {
    ImGui::SetNextWindowPos({area.right, bottom}, ImGuiCond_Always, {1, 0});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
    ImGui::Begin("unseen", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_AlwaysAutoResize |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoFocusOnAppearing);
    for (const std::string& words : missing) kit::small_words(state, Name{words}, kit::Tone::ink);
    ImGui::End();
    ImGui::PopStyleVar();
  }
  return bottom;
}

}  // namespace legwork::gui::on_site
