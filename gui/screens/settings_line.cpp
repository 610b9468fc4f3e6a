#include "gui/screens/settings_line.h"

#include <imgui.h>

#include <algorithm>
#include <functional>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/catalogue.h"
#include "gui/kit.h"

namespace legwork::gui {
namespace {

// What a theme of assets/themes.yaml is called; one that somebody added, by its own name.
Message paper_words(const std::string& theme) {
  if (theme == "paper-light") return phrase("light");
  if (theme == "paper-dark") return phrase("dark");
  return Name{theme};
}

struct Pick {
  std::string name;
  Message words;
  bool chosen;
  std::function<void(Settings&)> choose;
};
struct Group {
  Phrase title;
  std::vector<Pick> picks;
};

std::vector<Group> groups_of(const State& state) {
  const Settings& now = state.settings;
  std::vector<Group> groups;
  Group papers{phrase("Paper"), {}};
  for (const Theme& theme : state.themes) {
    papers.picks.push_back({"theme " + theme.name, paper_words(theme.name), now.theme == theme.name,
                            [name = theme.name](Settings& s) { s.theme = name; }});
  }
  groups.push_back(std::move(papers));
  Group spoken_in{phrase("Language"), {}};
  for (const Language& language : languages()) {
    spoken_in.picks.push_back({"language " + language.tag, Name{language.native_name},
                               now.language == language.tag,
                               [tag = language.tag](Settings& s) { s.language = tag; }});
  }
  groups.push_back(std::move(spoken_in));
  groups.push_back(
      {phrase("Units"),
       {{"fahrenheit", Name{"°F"}, !now.celsius, [](Settings& s) { s.celsius = false; }},
        {"celsius", Name{"°C"}, now.celsius, [](Settings& s) { s.celsius = true; }},
        {"psig", Name{"psig"}, !now.bar, [](Settings& s) { s.bar = false; }},
        {"bar", Name{"bar"}, now.bar, [](Settings& s) { s.bar = true; }}}});
  groups.push_back(
      {phrase("Sound"),
       {{"sound on", phrase_in("a sound", "on"), now.sound, [](Settings& s) { s.sound = true; }},
        {"sound off", phrase_in("a sound", "off"), !now.sound,
         [](Settings& s) { s.sound = false; }}}});
  groups.push_back({phrase("Motion"),
                    {{"motion full", phrase_in("a motion", "full"), !now.calm,
                      [](Settings& s) { s.calm = false; }},
                     {"motion reduced", phrase_in("a motion", "reduced"), now.calm,
                      [](Settings& s) { s.calm = true; }}}});
  groups.push_back({phrase("Text"),
                    {{"text smaller", Name{"A −"}, false,
                      [](Settings& s) { s.scale = std::max(kLeastScale, s.scale - 0.1F); }},
                     {"text larger", Name{"A +"}, false,
                      [](Settings& s) { s.scale = std::min(kMostScale, s.scale + 0.1F); }}}});
  return groups;
}

// The files of machines and tickets have their texts in these (circuits/README.md).
constexpr std::string_view kFilesSpeak[] = {"en", "es"};
bool files_lag(const State& state) {
  return std::find(std::begin(kFilesSpeak), std::end(kFilesSpeak), state.settings.language) ==
         std::end(kFilesSpeak);
}

constexpr float kBetween = 30, kAfterTitle = 10, kBetweenPicks = 12;

float wide_of(const State& state, const Group& group) {
  const float s = state.ink.scale;
  ImFont* small = state.ink.fonts.small;
  ImFont* body = state.ink.fonts.body;
  const auto wide = [&](ImFont* font, const Message& words) {
    return font->CalcTextSizeA(font->FontSize, 1e9F, 0, spoken(state, words).c_str()).x;
  };
  float out = wide(small, group.title) + kAfterTitle * s;
  for (const Pick& pick : group.picks)
    out += std::max(24.0F, wide(body, pick.words)) + kBetweenPicks * s;
  return out;
}

// Calls for each group: does it begin a line?
void lay(const State& state, float width, const std::vector<Group>& groups,
         const std::function<void(const Group&, bool)>& each) {
  float x = 0;
  for (const Group& group : groups) {
    const float wide = wide_of(state, group);
    const bool begins = x == 0 || x + kBetween * state.ink.scale + wide > width;
    x = begins ? wide : x + kBetween * state.ink.scale + wide;
    each(group, begins);
  }
}

float line_high(const State& state) {
  return std::max(24.0F, state.ink.fonts.body->FontSize + 6 * state.ink.scale) +
         4 * state.ink.scale;
}

}  // namespace

void draw_settings(State& state, float width) {
  const float s = state.ink.scale;
  const std::vector<Group> groups = groups_of(state);
  const float left = ImGui::GetCursorScreenPos().x;
  float y = kit::down() - line_high(state);
  lay(state, width, groups, [&](const Group& group, bool begins) {
    if (begins) {
      y += line_high(state);
      kit::at(left, y);
    } else {
      ImGui::SameLine(0, kBetween * s);
    }
    ImGui::AlignTextToFramePadding();
    kit::small_words(state, group.title);
    float room = kAfterTitle;
    for (const Pick& pick : group.picks) {
      ImGui::SameLine(0, room * s);
      if (kit::pick(state, pick.name, pick.words, pick.chosen)) pick.choose(state.settings);
      room = kBetweenPicks;
    }
  });
  if (files_lag(state)) {
    kit::at(left, y + line_high(state));
    kit::small_words(state, phrase("Machines and tickets are written in English and Spanish. In "
                                   "any other language their own texts stand in English."));
  }
}

float settings_high(const State& state, float width) {
  float high = 0;
  lay(state, width, groups_of(state),
      [&](const Group&, bool begins) { high += begins ? line_high(state) : 0; });
  if (files_lag(state)) high += line_high(state);
  return high;
}

}  // namespace legwork::gui
