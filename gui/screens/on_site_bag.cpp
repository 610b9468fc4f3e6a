// Along the foot: the bag of instruments, what was answered, a line to type on. At the side: the
// pad.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cctype>
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
};
constexpr InHand kInHand[] = {{"volts", phrase("Volts")},
                              {"lowz", phrase("Low impedance")},
                              {"dc", phrase("DC volts")},
                              {"ohms", phrase("Ohms")},
                              {"continuity", phrase("Continuity")},
                              {"microfarads", phrase("Microfarads")},
                              {"clamp", phrase("Clamp")},
                              {"peak", phrase("Clamp, peak hold")},
                              {"insulation", phrase("Insulation tester")},
                              {"temp", phrase("Thermometer")}};

void take(OnSiteState& mine, const std::string& verb) {
  mine.hand = mine.hand == verb ? "" : verb;
  mine.red.clear();
  mine.black.clear();
  mine.shown = {};
  // Thermometers are put to the piping, everything else to the wiring.
  if (!mine.hand.empty()) mine.back = touch_of(mine.hand) == Touch::at_a_point;
}

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

// "cc.a1 cc.a2" with an instrument in hand is a reading with it; the leads go there. Anything else
// is a step as it is.
std::string completed(OnSiteState& mine, const std::string& typed) {
  const Touch touch = touch_of(mine.hand);
  if (touch == Touch::none) return typed;
  const unit::Unit& unit = *mine.view.unit;
  if (touch == Touch::at_a_point) {
    for (const unit::ProbePoint& probe : unit.probes) {
      if (lower(probe.id) != lower(typed)) continue;
      mine.red = "@" + probe.id;
      return mine.hand + " " + probe.id;
    }
    return typed;
  }
  std::vector<std::string> names;
  for (std::size_t from = 0; from < typed.size();) {
    std::size_t to = typed.find(' ', from);
    if (to == std::string::npos) to = typed.size();
    const std::string word = lower(typed.substr(from, to - from));
    from = to + 1;
    if (word.empty()) continue;
    const std::size_t before = names.size();
    if (touch == Touch::two_leads) {
      for (const circuit::Terminal& t : unit.circuit.terminals) {
        if (lower(t.name) == word && names.size() == before) names.push_back(t.name);
      }
    } else {
      for (const circuit::Wire& wire : unit.circuit.wires) {
        if (lower(wire.name) == word && names.size() == before) names.push_back(wire.name);
      }
    }
    if (names.size() == before) return typed;
  }
  if (names.size() != (touch == Touch::two_leads ? 2U : 1U)) return typed;
  mine.red = names.front();
  if (touch == Touch::two_leads) mine.black = names.back();
  std::string line = mine.hand;
  for (const std::string& name : names) line += " " + name;
  return line;
}

// 1 to 9 and 0 take the instruments in their order, C unfolds the card.
void take_by_key(State& state, OnSiteState& mine) {
  if (state.help || !kit::keys_free()) return;
  for (std::size_t i = 0; i < std::size(kInHand); ++i) {
    const int digit = (static_cast<int>(i) + 1) % 10;
    if (kit::pressed(static_cast<Key>(static_cast<int>(Key::n0) + digit)))
      take(mine, kInHand[i].verb);
  }
  if (kit::pressed(Key::c)) mine.paper.card_open = !mine.paper.card_open;
}

// What is in the bag besides the instruments that go in the hand.
void draw_slips(State& state, OnSiteState& mine) {
  const float s = state.ink.scale;
  if (!mine.view.unit->gauge_place.empty()) {
    ImGui::SameLine(0, 16 * s);
    const bool on = mine.view.instruments.gauges_on;
    if (kit::pick(state, "hand gauges", phrase("Gauges"), on && mine.back)) {
      if (!on) give_step(state, "gauges on");
      mine.hand.clear();
      mine.back = true;
    }
  }
  ImGui::SameLine(0, 16 * s);
  if (kit::pick(state, "hand lamp", phrase("Lamp"), mine.lamp)) {
    mine.lamp = !mine.lamp;
    if (mine.lamp) mine.group = "on site.look";
  }
  ImGui::SameLine(0, 16 * s);
  if (kit::pick(state, "hand card", phrase("P-T card"), mine.paper.card_open))
    mine.paper.card_open = !mine.paper.card_open;
}

}  // namespace

Message name_of_instrument(const std::string& verb) {
  for (const InHand& row : kInHand) {
    if (verb == row.verb) return row.name;
  }
  return verb == "jumper" ? Message(phrase("Jumper"))
         : verb == "lift" ? Message(phrase("Lift a wire"))
                          : Message();
}

void draw_pad(State& state, Place area) {
  OnSiteState& mine = state.screens->on_site;
  const float s = state.ink.scale;
  ImGui::SetCursorScreenPos({area.left, area.top});
  ImGui::BeginChild("pad", {area.right - area.left, area.bottom - area.top}, false);
  if (kit::choice(state, "pad",
                  mine.pad_open ? spoken(state, phrase("Readings")) : spoken(state, phrase("…")))) {
    mine.pad_open = !mine.pad_open;
  }
  if (mine.pad_open) {
    for (auto tag = mine.view.tags.rbegin(); tag != mine.view.tags.rend(); ++tag) {
      std::string where;
      for (const std::string& at : tag->at) where += (where.empty() ? "" : " – ") + at;
      ImGui::Dummy({0, 2 * s});
      kit::mono(state, Name{fmt::format("{:>2}  {}", tag->number, spoken(state, tag->shown))});
      kit::small_words(state, say("{function} {where} · {minutes} min",
                                  {{"function", Term{tag->function}},
                                   {"where", Term{where}},
                                   {"minutes", Number{tag->at_minute, 0}}}));
      if (!tag->remark.empty())
        kit::small_words(state, kit::quoted(Name{tag->remark}), kit::Tone::pen);
      if (mine.remark_on == tag->number) {
        if (kit::field(state, "remark", mine.remark, (area.right - area.left) - 20 * s,
                       spoken(state, phrase("remark")))) {
          const std::string line = fmt::format("remark {} {}", tag->number, mine.remark);
          mine.remark_on = -1;
          mine.remark.clear();
          give_step(state, line);
          break;
        }
      } else if (kit::choice(state, fmt::format("remark on {}", tag->number),
                             spoken(state, phrase("remark")))) {
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
  for (const auto& [verb, name] : kInHand) {
    if (!first) ImGui::SameLine(0, 16 * s);
    first = false;
    if (kit::pick(state, std::string("hand ") + verb, name, mine.hand == verb)) take(mine, verb);
  }
  draw_slips(state, mine);
  take_by_key(state, mine);
  ImGui::SetCursorScreenPos({area.left, area.top + 34 * s});
  ImGui::BeginChild("answer", {wide * 0.60F, area.bottom - area.top - 36 * s}, false);
  for (const Message& harm : mine.harm) kit::caution(state, harm, wide * 0.58F);
  for (const Message& line : mine.answer) kit::words(state, line, kit::Tone::ink, wide * 0.58F);
  ImGui::EndChild();
  ImGui::SetCursorScreenPos({area.left + wide * 0.62F, area.top + 40 * s});
  if (kit::field(state, "step", mine.typed, wide * 0.36F,
                 spoken(state, phrase("a step, typed: volts CC.A1 CC.A2")))) {
    const std::string line = completed(mine, mine.typed);
    mine.typed.clear();
    if (!line.empty()) give_step(state, line);
  }
  ImGui::SetCursorScreenPos({area.left + wide * 0.62F, area.top + 72 * s});
  static constexpr std::pair<const char*, Phrase> kRuns[] = {
      {"let it run 1 min", phrase("Let it run 1 min")},
      {"let it run 5 min", phrase("5 min")},
      {"let it run until change", phrase("until something changes")}};
  for (const auto& [run, text] : kRuns) {
    if (kit::choice(state, run, text)) give_step(state, run);
    ImGui::SameLine(0, 16 * s);
  }
}

}  // namespace legwork::gui::on_site
