#include "gui/screens/guide.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

bool has_tag(const OnSiteState& site, bool of_meter) {
  return std::any_of(site.view.tags.begin(), site.view.tags.end(), [&](const session::Tag& tag) {
    return of_meter ? tag.at.size() == 2 : tag.at.size() < 2;
  });
}

bool outdoors(const OnSiteState& site) {
  return std::any_of(site.view.places.begin(), site.view.places.end(),
                     [](const session::PlaceView& p) { return p.here && p.outdoors; });
}

// One slip: its words, the thing it rings (first of these that is on the page), when it is done.
// None: it is read and turned.
struct Slip {
  Phrase words;
  std::vector<const char*> rings;
  bool (*done)(const OnSiteState& site);
  bool caution = false;
};

const std::vector<Slip>& slips() {
  static const std::vector<Slip> all = {
      {phrase("This is the ticket. It says what somebody on site noticed, and what the machine "
              "shows on arrival. Some of it may lead astray."),
       {"fold ticket", "unfold ticket"},
       nullptr},
      {phrase("Each step costs minutes on the site clock, and the machine goes on living "
              "meanwhile. Unfold \"Look and listen\" and look at something where you stand."),
       {"group on site.look"},
       [](const OnSiteState& site) { return has_tag(site, false); }},
      {phrase("Along the top are the places. Choose the roof to walk there, or type \"go roof\" in "
              "the line at the foot."),
       {"place roof"},
       outdoors},
      {phrase("Before live work, gloves and glasses. They are under \"Make it safe\"."),
       {"do gloves on", "group on site.safety"},
       [](const OnSiteState& site) { return site.view.instruments.gloves_on; },
       true},
      {phrase("Now take the cover off the panel, under \"By hand\" or typed, \"cover off roof\". "
              "Terminals that can be reached are then drawn in full ink."),
       {"do cover off roof", "group on site.hands"},
       [](const OnSiteState& site) { return !site.view.instruments.covers_off.empty(); }},
      {phrase("Take the meter out of the bag. Choose \"Volts\" along the foot."),
       {"hand volts"},
       [](const OnSiteState& site) { return site.hand == "volts" || has_tag(site, true); }},
      {phrase("Put the red and the black lead on two terminals of the sheet by dragging or "
              "clicking them, or type \"volts TB.L1 TB.L2\". Measure across two terminals rather "
              "than to earth."),
       {"meter", "step"},
       [](const OnSiteState& site) { return has_tag(site, true); }},
      {phrase("Each reading leaves a numbered tag, at its terminals and on the pad at the side, "
              "where a remark can be written."),
       {"pad"},
       nullptr},
      {phrase("Before hands go in, open the handle, put your lock on it, and prove dead the part "
              "that your hands will be on, \"prove dead CC\". Dead by chance certifies nothing."),
       {"do prove dead CC", "group on site.safety"},
       nullptr,
       true},
      {phrase("Time passes only with your steps. \"Let it run\" waits a while, or until something "
              "changes. The wheel brings the sheet nearer, B turns it over, F1 shows the keys."),
       {"let it run 5 min"},
       nullptr},
      {phrase("When you know what stopped it and why, write it up and sign off. The debrief then "
              "goes through every step."),
       {"to write-up"},
       nullptr},
  };
  return all;
}

void ring(State& state, const Slip& slip) {
  for (const char* name : slip.rings) {
    const auto at = state.places.find(name);
    if (at == state.places.end()) continue;
    const Place& p = at->second;
    const float pad = 5 * state.ink.scale;
    ImGui::GetForegroundDrawList()->AddRect({p.left - pad, p.top - pad},
                                            {p.right + pad, p.bottom + pad},
                                            state.ink.theme.packed(Role::pen), 3, 0, 2);
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
  ring(state, slip);

  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float wide = 430 * s;
  // Over the foot of the sheet, clear of the bag below and of what is done at the left.
  ImGui::SetNextWindowPos({all.x * 0.5F, all.y - 140 * s}, ImGuiCond_Always, {0.5F, 1});
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
  if (slip.done == nullptr && mine.step < last) {
    if (kit::choice(state, "guide on", phrase("Go on"))) ++mine.step;
    ImGui::SameLine(0, 24 * s);
  }
  if (kit::choice(state, "leave guide",
                  mine.step == last ? phrase("The call is yours") : phrase("Leave the guide")))
    leave(state);
  ImGui::End();
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
}

}  // namespace legwork::gui
