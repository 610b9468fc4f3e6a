#include "gui/screens/guide.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

bool looked(const OnSiteState& site, std::string_view target) {
  return std::any_of(site.view.tags.begin(), site.view.tags.end(), [&](const session::Tag& tag) {
    return tag.state >= 0 && (target.empty() || (!tag.at.empty() && tag.at.front() == target));
  });
}

// A reading with a lead on each of the two.
bool measured_across(const OnSiteState& site, std::string_view a, std::string_view b) {
  return std::any_of(site.view.tags.begin(), site.view.tags.end(), [&](const session::Tag& tag) {
    return tag.at.size() == 2 &&
           ((tag.at[0] == a && tag.at[1] == b) || (tag.at[0] == b && tag.at[1] == a));
  });
}

bool outdoors(const OnSiteState& site) {
  return std::any_of(site.view.places.begin(), site.view.places.end(),
                     [](const session::PlaceView& p) { return p.here && p.outdoors; });
}

// One slip: its words, the things it rings (the first of them that is on the page), when it is
// done. The last ones ring nothing: there the trainee works alone.
struct Slip {
  Phrase words;
  std::vector<const char*> rings;
  bool (*done)(const OnSiteState& site);
  bool caution = false;
};

const std::vector<Slip>& slips() {
  static const std::vector<Slip> all = {
      {phrase("This is the ticket. It says what somebody on site noticed, and what the machine "
              "shows on arrival. Some of it may lead astray. Open it."),
       {"unfold ticket"},
       [](const OnSiteState& site) { return site.ticket_open; }},
      {phrase("Each step costs minutes on the site clock, and the machine goes on living "
              "meanwhile. Click the door: beside it opens what can be done to it. Look at it."),
       {"do look door", "part !door"},
       [](const OnSiteState& site) { return looked(site, {}); }},
      {phrase("Along the top are the places. Choose the roof to walk there."),
       {"place roof"},
       outdoors},
      {phrase("Before live work, gloves and glasses. They are in the bag."),
       {"hand gloves", "bag"},
       [](const OnSiteState& site) { return site.view.instruments.gloves_on; },
       true},
      {phrase("The compartment is shut. Click its cover and take it off."),
       {"do cover off roof", "part !cover"},
       [](const OnSiteState& site) { return !site.view.instruments.covers_off.empty(); }},
      {phrase("A meter that was not proven proves nothing. Prove it on a known source."),
       {"prove meter"},
       [](const OnSiteState& site) { return site.view.instruments.meter_proven; }},
      {phrase("Now measure the coil of the contactor CC. Click its screw A1: the red lead goes "
              "there. If CC is out of sight, click where its name stands on the edge."),
       {"red here", "screw CC.A1", "beyond panel down", "beyond panel up"},
       [](const OnSiteState& site) {
         return site.red == "CC.A1" || site.black == "CC.A1" ||
                measured_across(site, "CC.A1", "CC.A2");
       }},
      {phrase("Click the screw A2 of CC: the black lead goes there, and the meter reads by itself. "
              "Both leads stay on until they are taken off, and what the meter shows is live."),
       {"black here", "screw CC.A2", "beyond panel down", "beyond panel up"},
       [](const OnSiteState& site) { return measured_across(site, "CC.A1", "CC.A2"); }},
      {phrase("The next three you do alone. First: the supply behind the fuses, TB.L1 to TB.L2. "
              "Take both leads off first: Off, at the meter."),
       {},
       [](const OnSiteState& site) { return measured_across(site, "TB.L1", "TB.L2"); }},
      {phrase("Second: look at the contactor. What was seen stands at the top, with its time, and "
              "in the picture."),
       {},
       [](const OnSiteState& site) { return looked(site, "CC"); }},
      {phrase("Third: before hands go in, open the handle of DISC and put your lock on it. The "
              "part that your hands will be on is then proven dead; dead by chance certifies "
              "nothing."),
       {},
       [](const OnSiteState& site) { return !site.view.instruments.locked.empty(); },
       true},
      {phrase("When you know what stopped it and why, write it up and sign off. The debrief then "
              "goes through every step. F1 shows the keys, L the list of all steps."),
       {"to write-up"},
       nullptr},
  };
  return all;
}

// Where a thing stands on the page: a part of the machine with its whole body.
bool find_thing(const State& state, const std::string& name, Place& at) {
  const auto it = state.places.find(name);
  if (it == state.places.end()) return false;
  at = it->second;
  constexpr std::string_view kPart = "part ";
  if (!name.starts_with(kPart)) return true;
  for (const on_site::Sheet& sheet : on_site::open_sheets(state.screens->on_site)) {
    for (const Target& target : sheet.scene->targets) {
      if (target.id != name.substr(kPart.size())) continue;
      const Place whole = on_site::place_on(sheet, target.box);
      const Place seen{std::max(whole.left, sheet.area.left), std::max(whole.top, sheet.area.top),
                       std::min(whole.right, sheet.area.right),
                       std::min(whole.bottom, sheet.area.bottom)};
      if (!on_site::holds(seen, at.middle_x(), at.middle_y())) continue;
      at = seen;
      return true;
    }
  }
  return true;
}

// A ring round the first of them that is on the page, and a line to it from the slip.
void ring(State& state, const Slip& slip, const Place& paper) {
  for (const std::string name : slip.rings) {
    Place p{};
    if (!find_thing(state, name, p)) continue;
    const float pad = 5 * state.ink.scale;
    p = {p.left - pad, p.top - pad, p.right + pad, p.bottom + pad};
    ImDrawList& list = *ImGui::GetForegroundDrawList();
    const unsigned pen = state.ink.theme.packed(Role::pen);
    list.AddRect({p.left, p.top}, {p.right, p.bottom}, pen, 3, 0, 2);
    if (paper.right <= paper.left) return;
    // From the nearest point of the slip to the nearest of the ring.
    const ImVec2 from{std::clamp(p.middle_x(), paper.left, paper.right),
                      std::clamp(p.middle_y(), paper.top, paper.bottom)};
    const ImVec2 to{std::clamp(from.x, p.left, p.right), std::clamp(from.y, p.top, p.bottom)};
    const float length = std::hypot(to.x - from.x, to.y - from.y);
    if (length < 20) return;
    const ImVec2 line[2] = {from, to};
    list.AddPolyline(line, 2, pen, 0, 1.5F * state.ink.scale);
    const ImVec2 way{(to.x - from.x) / length, (to.y - from.y) / length};
    const float head = 9 * state.ink.scale;
    list.AddTriangleFilled(
        to,
        {to.x - way.x * head - way.y * head * 0.45F, to.y - way.y * head + way.x * head * 0.45F},
        {to.x - way.x * head + way.y * head * 0.45F, to.y - way.y * head - way.x * head * 0.45F},
        pen);
    return;
  }
}

void leave(State& state) {
  state.screens->guide.open = false;
  state.settings.shown_round = true;
}

}  // namespace

void start_guide(State& state) {
  OnSiteState& site = state.screens->on_site;
  if ((!site.door || site.view.closed) && !open_ticket(state, "mb-002")) return;
  state.screen = "on site";
  state.screens->guide = {true, 0};
}

void draw_guide(State& state) {
  GuideState& mine = state.screens->guide;
  const OnSiteState& site = state.screens->on_site;
  if (!mine.open || state.screen != "on site" || !site.door) return;
  const int last = static_cast<int>(slips().size()) - 1;
  while (mine.step < last) {
    const Slip& slip = slips()[static_cast<std::size_t>(mine.step)];
    if (slip.done == nullptr || !slip.done(site)) break;
    ++mine.step;
  }
  const Slip& slip = slips()[static_cast<std::size_t>(mine.step)];

  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float wide = 430 * s;
  // Over the sheet, of which it never speaks: so it does not lie on what it rings.
  ImGui::SetNextWindowPos({all.x - 26 * s, all.y - 190 * s}, ImGuiCond_Always, {1, 1});
  ImGui::SetNextWindowSize({wide, 0});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
  ImGui::PushStyleColor(ImGuiCol_WindowBg, state.ink.theme.packed(Role::tag));
  ImGui::Begin("guide", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoFocusOnAppearing);
  kit::small_words(state, Name{fmt::format("{} / {}", mine.step + 1, last + 1)});
  kit::words(state, slip.words, kit::Tone::ink, wide - 48 * s);
  if (slip.caution)
    kit::caution(state,
                 phrase("Live panels kill. Work dead wherever it can be done, under lock, and "
                        "proven. Live readings are for licensed people by the site's procedure."),
                 wide - 48 * s);
  if (kit::choice(state, "leave guide",
                  mine.step == last ? phrase("The call is yours") : phrase("Leave the guide")))
    leave(state);
  const ImVec2 low = ImGui::GetWindowPos(), size = ImGui::GetWindowSize();
  ImGui::End();
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
  if (mine.open) ring(state, slip, {low.x, low.y, low.x + size.x, low.y + size.y});
}

}  // namespace legwork::gui
