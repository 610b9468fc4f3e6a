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
  const char* words;
  std::vector<const char*> rings;
  bool (*done)(const OnSiteState& site);
  bool caution = false;
};

const std::vector<Slip>& slips() {
  static const std::vector<Slip> all = {
      {"guide.ticket", {"fold ticket", "unfold ticket"}, nullptr},
      {"guide.look",
       {"group on site.look"},
       [](const OnSiteState& site) { return has_tag(site, false); }},
      {"guide.walk", {"place roof"}, outdoors},
      {"guide.gloves",
       {"do gloves on", "group on site.safety"},
       [](const OnSiteState& site) { return site.view.instruments.gloves_on; },
       true},
      {"guide.cover",
       {"do cover off roof", "group on site.hands"},
       [](const OnSiteState& site) { return !site.view.instruments.covers_off.empty(); }},
      {"guide.volts",
       {"hand volts"},
       [](const OnSiteState& site) { return site.hand == "volts" || has_tag(site, true); }},
      {"guide.leads",
       {"meter", "step"},
       [](const OnSiteState& site) { return has_tag(site, true); }},
      {"guide.tag", {"pad"}, nullptr},
      {"guide.dead", {"do prove dead CC", "group on site.safety"}, nullptr, true},
      {"guide.run", {"let it run 5 min"}, nullptr},
      {"guide.write up", {"to write-up"}, nullptr},
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
  kit::small_words(state, fmt::format("{} / {}", mine.step + 1, last + 1));
  kit::words(state, say(state, slip.words), kit::Tone::ink, wide - 48 * s);
  if (slip.caution) kit::caution(state, say(state, "cautions.live work"), wide - 48 * s);
  if (slip.done == nullptr && mine.step < last) {
    if (kit::choice(state, "guide on", say(state, "guide.go on"))) ++mine.step;
    ImGui::SameLine(0, 24 * s);
  }
  if (kit::choice(state, "leave guide",
                  say(state, mine.step == last ? "guide.thanks" : "guide.leave")))
    leave(state);
  ImGui::End();
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
}

}  // namespace legwork::gui
