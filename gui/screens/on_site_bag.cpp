// Along the foot: the bag of instruments, what was answered, a line to type on. At the side: the
// pad.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "gui/kit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"

namespace legwork::gui::on_site {
namespace {

constexpr const char* kInHand[] = {"volts",       "lowz",  "dc",   "ohms",       "continuity",
                                   "microfarads", "clamp", "peak", "insulation", "temp"};

void take(OnSiteState& mine, const std::string& verb) {
  mine.hand = mine.hand == verb ? "" : verb;
  mine.red.clear();
  mine.black.clear();
  mine.shown.clear();
}

}  // namespace

void draw_pad(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  ImGui::SetCursorScreenPos({area.left, area.top});
  ImGui::BeginChild("pad", {area.right - area.left, area.bottom - area.top}, false);
  if (kit::choice(state, "pad",
                  mine.pad_open ? say(state, "on site.pad") : say(state, "on site.pad folded"))) {
    mine.pad_open = !mine.pad_open;
  }
  if (mine.pad_open) {
    for (auto tag = mine.view.tags.rbegin(); tag != mine.view.tags.rend(); ++tag) {
      std::string where;
      for (const std::string& at : tag->at) where += (where.empty() ? "" : " – ") + at;
      ImGui::Dummy({0, 2 * s});
      kit::mono(state, fmt::format("{:>2}  {}", tag->number, tag->shown));
      kit::small_words(state,
                       fmt::format("{} {} · {:.0f} min", tag->function, where, tag->at_minute));
      if (!tag->remark.empty()) kit::small_words(state, "“" + tag->remark + "”", kit::Tone::pen);
      if (mine.remark_on == tag->number) {
        if (kit::field(state, "remark", mine.remark, (area.right - area.left) - 20 * s,
                       say(state, "on site.remark"))) {
          const std::string line = fmt::format("remark {} {}", tag->number, mine.remark);
          mine.remark_on = -1;
          mine.remark.clear();
          give_step(state, line);
          break;
        }
      } else if (kit::choice(state, fmt::format("remark on {}", tag->number),
                             say(state, "on site.remark"))) {
        mine.remark_on = tag->number;
        mine.remark.clear();
      }
    }
  }
  ImGui::EndChild();
}

void draw_bag(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  const float wide = area.right - area.left;
  ImGui::SetCursorScreenPos({area.left, area.top});
  kit::rule(state);
  bool first = true;
  for (const char* verb : kInHand) {
    if (!first) ImGui::SameLine(0, 16 * s);
    first = false;
    if (kit::pick(state, std::string("hand ") + verb, say(state, std::string("instrument.") + verb),
                  mine.hand == verb))
      take(mine, verb);
  }
  ImGui::SetCursorScreenPos({area.left, area.top + 34 * s});
  ImGui::BeginChild("answer", {wide * 0.60F, area.bottom - area.top - 36 * s}, false);
  for (const std::string& harm : mine.harm) kit::caution(state, harm, wide * 0.58F);
  for (const std::string& line : mine.answer) kit::words(state, line, kit::Tone::ink, wide * 0.58F);
  ImGui::EndChild();
  ImGui::SetCursorScreenPos({area.left + wide * 0.62F, area.top + 40 * s});
  if (kit::field(state, "step", mine.typed, wide * 0.36F, say(state, "on site.type a step"))) {
    const std::string line = mine.typed;
    mine.typed.clear();
    if (!line.empty()) give_step(state, line);
  }
  ImGui::SetCursorScreenPos({area.left + wide * 0.62F, area.top + 72 * s});
  for (const char* run : {"let it run 1 min", "let it run 5 min", "let it run until change"}) {
    if (kit::choice(state, run, say(state, std::string("on site.") + run))) give_step(state, run);
    ImGui::SameLine(0, 16 * s);
  }
}

}  // namespace legwork::gui::on_site
